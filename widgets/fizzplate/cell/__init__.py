"""What happens when current flows: geometry, circuit, kinetics, transport, the run and its record."""
