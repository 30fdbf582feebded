"""Parts out at platers, machinists, laboratories: sent, due, back, papers, cost."""
