"""What is original: the ledger as found, evidence and its balance, numbers, odometer."""
