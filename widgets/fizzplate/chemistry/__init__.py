"""What is true of substances: formulae, equations, solutions, electrodes, potentials, mobilities."""
