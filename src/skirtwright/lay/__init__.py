"""On the cloth: the pieces laid on it, how much it takes, what it will give."""
