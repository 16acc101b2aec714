"""Rules that switch the fan: memory and readings in, memory and command out."""
