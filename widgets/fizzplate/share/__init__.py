"""How the pages reach people: the command, the server, the page template and the page to take away."""
