"""People: who may sign in, shared tablets, and what owners see."""
