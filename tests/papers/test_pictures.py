"""Pictures of this slab: a photo that the camera turned is shown upright, and at no more than it is printed at."""

import io

import numpy as np
import pytest
from PIL import Image

from finishadvisor.papers.pictures import ORIENTATION, PHOTO_SIDE_PX, marked_photo


@pytest.mark.parametrize(("mode", "ending"), [("RGB", "jpg"), ("L", "jpg"), ("RGBA", "png")])
def test_a_turned_photo_is_shown_upright(example, tmp_path, mode, ending):
    photo = example.floors[0].floor.photos[1]
    with Image.open(example.folder / "photos" / photo.file) as original:
        upright = original.convert(mode)
    turned = upright.transpose(Image.Transpose.ROTATE_90)  # as a camera held upright stores it, to be turned clockwise
    exif = turned.getexif()
    exif[ORIENTATION] = 6
    turned.save(tmp_path / f"turned.{ending}", exif=exif)
    upright.save(tmp_path / f"upright.{ending}")
    shown, wanted = (
        Image.open(io.BytesIO(marked_photo(tmp_path / f"{name}.{ending}", photo))) for name in ("turned", "upright")
    )
    assert shown.size == wanted.size
    assert max(shown.size) == PHOTO_SIDE_PX
    assert shown.mode == "RGB"
    assert np.abs(np.asarray(shown, dtype=float) - np.asarray(wanted, dtype=float)).mean() < 2
