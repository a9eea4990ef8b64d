"""What answers a request: pages, files, the websocket of a page, refusals, and who may come in."""
