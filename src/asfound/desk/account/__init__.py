"""Who is at the desk: signing in and out."""
