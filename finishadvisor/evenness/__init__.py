"""From a photo of a cured slab to how even the slab's own shade is. Knows no job and no rules."""
