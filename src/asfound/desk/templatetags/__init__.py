"""How the pages write numbers and words."""
