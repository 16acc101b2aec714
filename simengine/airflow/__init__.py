"""Air through ducts and collector: pressure, operating point, fan power, buoyancy, duct heat loss."""
