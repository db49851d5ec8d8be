"""What all figures share: the drawing library's cache, the open font, one plain style, the kinds of file."""

import os
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

import numpy as np

from finishadvisor.papers.look import look
from finishadvisor.papers.typeset import font_folder

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

PAPER: Final = look().color["paper"]
INK: Final = look().color["ink"]
QUIET: Final = look().color["quiet"]
RULE: Final = look().color["rule"]
WORK: Final = look().color["work"]
HOLD: Final = look().color["hold"]
WHITE: Final = "#FFFFFF"

TEXT_PT: Final = 9.0
TITLE_PT: Final = 10.5
DOTS_PER_INCH: Final = 160
QUICK: Final = 3
"""PNG compression: about as small as the usual 6 on a grainy picture, in half the time (our choice)."""

Form = Literal["svg", "pdf", "png"]


def cache_folder() -> Path:
    """Return where the drawing library keeps its list of fonts: the user's cache folder, else a temporary one."""
    from platformdirs import user_cache_path

    wanted = user_cache_path("finishadvisor", appauthor=False) / "figures"
    try:
        wanted.mkdir(parents=True, exist_ok=True)
    except OSError:
        return Path(tempfile.gettempdir()) / "finishadvisor-figures"
    return wanted if os.access(wanted, os.W_OK) else Path(tempfile.gettempdir()) / "finishadvisor-figures"


@cache
def ready() -> None:
    """Point the drawing library at its cache folder, before its first import, and make the open font known to it."""
    os.environ.setdefault("MPLCONFIGDIR", str(cache_folder()))
    from matplotlib import font_manager

    if not any(font.name == look().type["family"] for font in font_manager.fontManager.ttflist):
        for file in sorted(font_folder().rglob("*.[ot]tf")):
            font_manager.fontManager.addfont(str(file))


@contextmanager
def plain_style() -> Iterator[None]:
    """Draw in the one plain style inside this block, whatever style the user has set up elsewhere."""
    ready()
    import matplotlib as mpl

    style: dict[Any, Any] = {
        "font.size": TEXT_PT,
        "font.family": [look().type["family"], "DejaVu Sans"],
        "text.color": INK,
        "axes.edgecolor": RULE,
        "axes.labelcolor": QUIET,
        "axes.spines.top": False,
        "axes.spines.right": False,
        "xtick.color": QUIET,
        "ytick.color": QUIET,
        "hatch.linewidth": 0.6,
        "hatch.color": QUIET,
        "svg.fonttype": "none",  # words stay words: they can be searched, and are set in the paper's own font
        "svg.hashsalt": "finishadvisor",  # the same figure is the same file every time
        "pdf.fonttype": 42,
    }
    with mpl.rc_context(style):
        yield


def drawn(width_in: float, height_in: float, form: Form, draw: Callable[["Figure"], None]) -> bytes:
    """Return a figure on white paper as a file, in the one plain style; `draw` is given it empty."""
    with plain_style():
        from matplotlib.figure import Figure

        figure = Figure(figsize=(width_in, height_in), facecolor="none", layout="constrained")
        draw(figure)
        return printed(figure, form)


def printed(figure: "Figure", form: Form) -> bytes:
    """Return a figure as a file. Its canvas is asked directly: `savefig` draws twice, first only to lay it out."""
    figure.dpi = DOTS_PER_INCH
    file = BytesIO()
    canvas: Any
    if form == "svg":
        from matplotlib.backends.backend_svg import FigureCanvasSVG

        canvas = FigureCanvasSVG(figure)
        canvas.print_svg(file, metadata={"Date": None})
    elif form == "pdf":
        from matplotlib.backends.backend_pdf import FigureCanvasPdf

        canvas = FigureCanvasPdf(figure)
        canvas.print_pdf(file, metadata={"CreationDate": None})
    else:
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from PIL import Image

        figure.set_facecolor(WHITE)
        canvas = FigureCanvasAgg(figure)
        canvas.draw()
        opaque = Image.fromarray(np.asarray(canvas.buffer_rgba())).convert("RGB")  # as PDF takes it in one piece
        opaque.save(file, "PNG", compress_level=QUICK, dpi=(DOTS_PER_INCH, DOTS_PER_INCH))
    return file.getvalue()


def title(axes: "Axes", words: str, **more: Any) -> None:
    """Write what the figure says over its left end."""
    axes.set_title(words, loc="left", fontsize=TITLE_PT, color=INK, **more)


def bare_axes(axes: "Axes") -> None:
    """Take ticks and frame off."""
    axes.set_xticks([])
    axes.set_yticks([])
    for side in axes.spines.values():
        side.set_visible(False)
