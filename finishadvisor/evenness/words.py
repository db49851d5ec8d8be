"""The closed lists of words that a measurement answers in, and the sentences that tell them."""

from enum import StrEnum
from typing import Final


class Grade(StrEnum):
    """How even the shade is, from the best to the worst; our own words, limits in evenness_limits.toml."""

    EVEN = "even"
    NEARLY_EVEN = "nearly-even"
    SLIGHTLY_UNEVEN = "slightly-uneven"
    UNEVEN = "uneven"
    VERY_UNEVEN = "very-uneven"


class Refusal(StrEnum):
    """Why a photo was not measured."""

    CANNOT_BE_READ = "cannot-be-read"
    CUT_SHORT = "cut-short"
    TOO_MANY_PIXELS = "too-many-pixels"
    TOO_FEW_PIXELS = "too-few-pixels"
    VIEW_TOO_FLAT = "view-too-flat"
    TOO_DARK = "too-dark"
    BLOWN_OUT = "blown-out"
    BLURRED = "blurred"
    TOO_GRAINY = "too-grainy"
    LIGHT_TOO_UNEVEN = "light-too-uneven"
    TOO_LITTLE_SLAB = "too-little-slab"


REFUSAL_SENTENCES: Final[dict[Refusal, str]] = {
    Refusal.CANNOT_BE_READ: "The file is not a picture that can be read. Use the camera's own JPEG, HEIC, PNG, TIFF or "
    "WebP file.",
    Refusal.CUT_SHORT: "The picture file is cut short or damaged. Copy it from the phone again.",
    Refusal.TOO_MANY_PIXELS: "The picture has more pixels than can be measured safely. Use the camera's normal "
    "setting, 12 to 50 megapixels.",
    Refusal.TOO_FEW_PIXELS: "The slab fills too few pixels. Go closer, fill the frame, and use the original file.",
    Refusal.VIEW_TOO_FLAT: "The slab is seen at too flat an angle. Stand higher (8 ft or more) and shoot bay by bay.",
    Refusal.TOO_DARK: "The slab is too dark in the photo. Use more light, or tap the slab to set the exposure.",
    Refusal.BLOWN_OUT: "Too much of the slab is blown out to white. Tap the slab, lower the exposure, and shoot again.",
    Refusal.BLURRED: "The photo is blurred. Hold the camera still, tap the slab to focus, and shoot again.",
    Refusal.TOO_GRAINY: "The photo is too grainy. Use more light and no night mode.",
    Refusal.LIGHT_TOO_UNEVEN: "The light falls off too steeply over the slab. Use all lamps or none, or an overcast "
    "sky.",
    Refusal.TOO_LITTLE_SLAB: "Too little of the slab is left to judge after what had to be left out. Clear the slab "
    "and shoot again.",
}


class Caveat(StrEnum):
    """What a reader of the grade must know; a grade always carries its caveats."""

    SHADOW_REMOVED = "shadow-removed"
    STEP_OR_SHADOW = "step-or-shadow"
    DAPPLED_LIGHT = "dappled-light"
    GLARE_LEFT_OUT = "glare-left-out"
    LIGHT_STEEP = "light-steep"
    SMALL_PIXEL_COUNT = "small-pixel-count"
    FLAT_VIEW = "flat-view"
    PARTLY_BLOWN_OUT = "partly-blown-out"
    DARK = "dark"
    GRAINY = "grainy"
    SOFT_FOCUS = "soft-focus"
    CARDS_UNUSABLE = "cards-unusable"
    DRIFT_FROM_CARDS = "drift-from-cards"
    OBJECTS_LEFT_OUT = "objects-left-out"
    PARTLY_MEASURED = "partly-measured"
    TWO_SHADES = "two-shades"
    YOUNG_SLAB = "young-slab"
    WETTED_LATELY = "wetted-lately"
    FLASH = "flash"
    DIGITAL_ZOOM = "digital-zoom"
    ULTRA_WIDE_LENS = "ultra-wide-lens"
    COLOR_PROFILE_GUESSED = "color-profile-guessed"
    BAYS_UNJOINED = "bays-unjoined"
    MOVED_WITH_LIGHT = "moved-with-light"


CAVEAT_SENTENCES: Final[dict[Caveat, str]] = {
    Caveat.SHADOW_REMOVED: "A cast shadow was taken out; both its sides were taken to be equally light. A photo "
    "without the shadow settles it.",
    Caveat.STEP_OR_SHADOW: "A straight, sharp step in shade may be a shadow. A second photo under other light settles "
    "it.",
    Caveat.DAPPLED_LIGHT: "Dappled sun lay on the slab: low confidence. Shoot again in even shade.",
    Caveat.GLARE_LEFT_OUT: "A streak of glare was left out. A photo from another side shows the slab under it.",
    Caveat.LIGHT_STEEP: "The light changes much over the slab. Gray cards at the middle and corners, or an overcast "
    "sky, settle what is slab.",
    Caveat.SMALL_PIXEL_COUNT: "Few pixels lie on the slab; thin marks are missed. Go closer or use the original file.",
    Caveat.FLAT_VIEW: "Part of the slab is seen flatter than about 20 degrees; its far end is weak. Stand higher.",
    Caveat.PARTLY_BLOWN_OUT: "Part of the slab is blown out to white and was left out. Lower the exposure.",
    Caveat.DARK: "The slab is dark in the photo. Use more light or raise the exposure.",
    Caveat.GRAINY: "The picture is grainy or the slab's texture is strong; small marks are uncertain.",
    Caveat.SOFT_FOCUS: "The photo is a little soft; thin marks and sharp edges are weakened.",
    Caveat.CARDS_UNUSABLE: "No card or sheet could be used (blown out, in shadow, or not neutral). Use gray cards.",
    Caveat.DRIFT_FROM_CARDS: "A slow drift of shade across the slab rests on the cards alone.",
    Caveat.OBJECTS_LEFT_OUT: "Things lying on the slab were left out. Clear the slab and shoot again.",
    Caveat.PARTLY_MEASURED: "A good part of the slab could not be measured.",
    Caveat.TWO_SHADES: "The slab reads as two shades, both given; the typical one is the larger.",
    Caveat.YOUNG_SLAB: "The slab is younger than 28 days; many marks fade by 60 to 90 days. Wash, wait and shoot "
    "again.",
    Caveat.WETTED_LATELY: "The slab was wetted lately; damp reads as dark. Let it dry and shoot again.",
    Caveat.FLASH: "The flash fired. Shoot without flash.",
    Caveat.DIGITAL_ZOOM: "Digital zoom was on; fine detail is made up. Shoot at 1x.",
    Caveat.ULTRA_WIDE_LENS: "An ultra-wide lens was used; the outer parts are stretched. Shoot with the 1x lens.",
    Caveat.COLOR_PROFILE_GUESSED: "The picture's color profile could not be used as it stands; sRGB was assumed.",
    Caveat.BAYS_UNJOINED: "Some photos do not overlap and share no card; their levels could not be matched.",
    Caveat.MOVED_WITH_LIGHT: "Some marks moved or turned over between the photos: that part is light or sheen, not "
    "slab.",
}


class Masked(StrEnum):
    """Why a part of the slab was left out."""

    OUT_OF_FRAME = "out-of-frame"
    LEFT_OUT = "left-out"
    WET = "wet"
    CARD = "card"
    BLOWN_OUT = "blown-out"
    BLACK = "black"
    UNRESOLVED = "unresolved"
    JOINT_OR_CRACK = "joint-or-crack"
    OBJECT = "object"
    SHADOW_EDGE = "shadow-edge"
    GLARE = "glare"
    RIM = "rim"


class PatchKind(StrEnum):
    """What a patch looks like; what it probably is follows from the rules."""

    PALE = "pale"
    DARK = "dark"
    HUE = "hue"
    PALE_LACE = "pale-lace"
    DARK_SOFT = "dark-soft"
    DARK_LINE = "dark-line"
    PALE_LINE = "pale-line"
    STRIPE = "stripe"
    EDGE_BAND = "edge-band"
    RING = "ring"
    LARGE_SIDE = "large-side"
    SMALL_SPOT = "small-spot"


PATCH_SENTENCES: Final[dict[PatchKind, str]] = {
    PatchKind.PALE: "lighter than the slab",
    PatchKind.DARK: "darker than the slab",
    PatchKind.HUE: "another color rather than another lightness",
    PatchKind.PALE_LACE: "lighter and grayer with a lace edge",
    PatchKind.DARK_SOFT: "darker and fuller in color with a soft edge",
    PatchKind.DARK_LINE: "a thin dark curved or branching line",
    PatchKind.PALE_LINE: "a thin light curved or branching line",
    PatchKind.STRIPE: "a long straight band, 3 in to 20 in wide",
    PatchKind.EDGE_BAND: "a band along the slab's edge",
    PatchKind.RING: "a ring or part of one, 2 ft to 5 ft across",
    PatchKind.LARGE_SIDE: "one side of a border that crosses the slab",
    PatchKind.SMALL_SPOT: "a small spot, under half a square foot",
}
