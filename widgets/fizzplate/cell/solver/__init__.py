"""How the equations are solved: the model of a cell, Newton steps, time steps, many cells side by side."""
