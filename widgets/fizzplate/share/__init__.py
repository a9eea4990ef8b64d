"""How it reaches people: the serving command and the page template."""
