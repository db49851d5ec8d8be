"""Renders reference_images/ anew: `python tests/make_reference_images.py`. Seeded, so the pictures do not change."""

import sys
from pathlib import Path

import numpy as np
import tomlkit

sys.path.insert(0, str(Path(__file__).parent / "bench"))
import evenness_scenes

from finishadvisor.demo.render import as_jpeg
from finishadvisor.evenness.color import color_difference
from finishadvisor.evenness.smooth import masked_mean

FOLDER = Path(__file__).parent.parent / "reference_images"
WIDTH_PX = 1100
PICTURES = (
    ("even-gray-overcast", 301, "plain", "even", "overcast", "gray", "an even slab under open sky reads even"),
    ("even-buff-window", 302, "plain", "even", "window", "buff", "window light is light, not shade"),
    ("even-charcoal-garage", 303, "plain", "even", "garage", "charcoal", "a dark slab at an open door reads even"),
    (
        "even-near-black-overcast",
        304,
        "plain",
        "even",
        "overcast",
        "near-black",
        "the darkest color is not refused as dark",
    ),
    ("even-terracotta-lamps", 305, "plain", "even", "lamps", "terracotta", "pools of lamp light are light"),
    (
        "even-light-gray-mixed",
        306,
        "plain",
        "even",
        "mixed",
        "light-gray",
        "daylight and bulbs mixed: color of light goes too",
    ),
    ("spots-gray-overcast", 311, "plain", "spots", "overcast", "gray", "spots of 1 ft and less are found"),
    ("patch-brown-window", 312, "plain", "patch", "window", "brown", "large patches under window light"),
    (
        "load-tan-overcast",
        313,
        "plain",
        "load",
        "overcast",
        "tan",
        "two truck loads read as two shades or a large side",
    ),
    ("mottle-gray-lamps", 314, "plain", "mottle", "lamps", "gray", "mottling 4 in to 12 in wide"),
    (
        "arcs-light-gray-garage",
        315,
        "plain",
        "arcs",
        "garage",
        "light-gray",
        "thin trowel arcs are reported, not taken for cracks",
    ),
    ("salts-terracotta-overcast", 316, "plain", "salts", "overcast", "terracotta", "pale lace of salts"),
    ("damp-buff-garage", 317, "plain", "damp", "garage", "buff", "dark marks with soft edges"),
    (
        "edge-band-gray-overcast",
        318,
        "plain",
        "edge-band",
        "overcast",
        "gray",
        "a band along the walls, under open sky",
    ),
    ("stripes-green-window", 319, "plain", "stripes", "window", "green", "straight bands"),
    ("footprints-dark-gray-overcast", 320, "plain", "footprints", "overcast", "dark-gray", "a row of small marks"),
    ("joints-cards-gray-garage", 331, "hard", "patch", "garage", "gray", "saw cuts left out, strong tone curve"),
    ("shadow-tan", 332, "hard", "spots", "shadow", "tan", "a cast shadow is taken out and said"),
    ("dapple-light-gray", 333, "hard", "even", "dapple", "light-gray", "dappled light is low confidence"),
    ("glare-brown", 334, "hard", "even", "glare", "brown", "a streak of glare is left out"),
    ("objects-gray-overcast", 341, "clutter", "even", "overcast", "gray", "things lying on the slab are left out"),
    ("objects-terracotta-lamps", 342, "clutter", "spots", "lamps", "terracotta", "things and spots under lamps"),
    ("drift-gray-overcast", 351, "drift", "even", "overcast", "gray", "a slow drift that only cards can show"),
    ("refused-dark", 361, "dark", "even", "window", "gray", "too dark"),
    ("refused-blown", 362, "blown", "even", "overcast", "buff", "blown out"),
    ("refused-blurred", 363, "blurred", "spots", "overcast", "gray", "out of focus"),
    ("refused-shaken", 364, "shaken", "spots", "overcast", "gray", "shaken"),
    ("refused-tiny", 365, "tiny", "even", "overcast", "gray", "too few pixels"),
)
REFUSED_AS = {
    "dark": "too-dark",
    "blown": "blown-out",
    "blurred": "blurred",
    "shaken": "blurred",
    "tiny": "too-few-pixels",
}


def truth_of(scene):
    """True figures on a 3 in mean, what lies on the slab left out."""
    real = ~scene.hidden
    lab = masked_mean(scene.lab, real, 3)[real]
    typical = np.nanmedian(lab, axis=0)
    de00 = color_difference(lab, typical)
    de00 = de00[np.isfinite(de00)]
    return {
        "typical_lab": [round(float(v), 2) for v in typical],
        "share_over": {str(limit): round(float((de00 > limit).mean()), 4) for limit in (2, 3, 5)},
        "p95_de00": round(float(np.percentile(de00, 95)), 3),
    }


def row_of(name, scene, shows):
    row = {"file": f"{name}.jpg", "for": shows, "kind": scene.kind, "fault": scene.fault, "light": scene.light_name}
    row["corners"] = [[round(x, 2), round(y, 2)] for x, y in scene.corners]
    row["size_ft"] = list(scene.size_ft)
    row["sheets"] = [{"at": [round(p[0], 2), round(p[1], 2)], "reflectance": value} for p, value in scene.sheets]
    if scene.refusal:
        row["refused"] = REFUSED_AS[scene.refusal]
    else:
        row |= truth_of(scene)
    return row


def main():
    FOLDER.mkdir(exist_ok=True)
    document = tomlkit.document()
    document.add(tomlkit.comment("Rendered slabs of known shade; tests/make_reference_images.py makes them anew."))
    document.add(
        tomlkit.comment("typical_lab, share_over and p95_de00 are the truth, on a 3 in mean of the bare slab.")
    )
    rows = tomlkit.aot()
    for name, seed, kind, fault, light, color, shows in PICTURES:
        scene = evenness_scenes.make_scene(seed, kind, fault, light, width_px=WIDTH_PX, color=color)
        (FOLDER / f"{name}.jpg").write_bytes(as_jpeg(scene.picture, 93))
        rows.append(tomlkit.item(row_of(name, scene, shows)))
    document.add("picture", rows)
    (FOLDER / "reference_images.toml").write_text(tomlkit.dumps(document), encoding="utf-8")
    print(sum(path.stat().st_size for path in FOLDER.iterdir()) / 1e6, "MB")


if __name__ == "__main__":
    main()
