"""What air and the fill gases of sealed panes are: density, viscosity, conductivity, humidity."""
