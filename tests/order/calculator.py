"""Does the arithmetic that an order line prints, as a person would on a calculator."""

import re

SIGNS = str.maketrans({"÷": "/", "×": "*", "−": "-"})
WORD = r"[^\W\d][\w²³-]*"


def redo(working):
    """What the printed arithmetic comes to, and what the line says that it comes to."""
    arithmetic, _, result = working.rpartition(" = ")
    arithmetic = arithmetic.rpartition(": ")[2].translate(SIGNS)
    arithmetic = re.sub(rf"{WORD}(/{WORD})?", "", arithmetic.replace(",", ""))
    assert re.fullmatch(r"[\d\s.+*/()e-]+", arithmetic), arithmetic
    return eval(arithmetic), float(result.split()[0].replace(",", ""))
