"""What it means: the weight of evidence and the words for it."""
