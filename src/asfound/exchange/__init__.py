"""In and out: car folders, gauge files, uploads."""
