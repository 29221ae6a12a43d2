"""What people run: the command line."""
