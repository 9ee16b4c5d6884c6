"""The project: a validated description of the house, its equipment and its wiring."""
