"""The instructor's desk: lessons to step a class through, to write, and to hand out."""
