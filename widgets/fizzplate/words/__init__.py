"""How a sentence is made: the board's wording, the names of electrodes, and refusals of bad input."""
