"""Generic constructions as tables: typical figures with their sources, no maker's product."""
