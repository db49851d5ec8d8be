"""Works into days: when the slab is ready, when the air allows it, when to coat again, when the floor is back."""
