"""Heat transfer: one function per published correlation, with its geometry, range and source."""
