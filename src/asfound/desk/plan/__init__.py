"""Who does what, where and when; the day to promise; what comes off first."""
