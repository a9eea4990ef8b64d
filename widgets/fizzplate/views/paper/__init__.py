"""What is printed: sheets, question papers and their mark schemes."""
