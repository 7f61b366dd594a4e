"""How a journal came to its present shape."""
