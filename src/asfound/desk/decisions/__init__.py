"""What is done with each piece: the choice, its reasons, locks and the brief."""
