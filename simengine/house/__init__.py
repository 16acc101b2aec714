"""The heat balance of the heated space."""
