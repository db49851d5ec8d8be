"""Which finish suits a floor, on whose word, what it costs over its life, and why the shade is uneven."""
