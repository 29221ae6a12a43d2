"""What people read and look at: the checks, the tables of a solution, the words of a verdict."""
