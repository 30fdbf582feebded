"""What work waits for that is no task: held, shown to whom it names, let go."""
