"""What is to be done for one finish on one floor: the tasks in order, their extents, materials and crew-hours."""
