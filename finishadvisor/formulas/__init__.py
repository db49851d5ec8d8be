"""Pure, cited formulas of the trade: film, air, slab heat, coating cure, drying, slab tests, reflection, dust, money.

Every argument is checked against the range of its source; constants of a published equation stand beside it.
"""
