"""The local page over job folders: the whole job from a phone on site or a laptop at the kitchen table."""
