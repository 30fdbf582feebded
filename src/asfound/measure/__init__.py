"""What the instruments say: calibration, uncertainty, fields over panels."""
