"""The equations of a cell, one a file, named as a textbook names them."""
