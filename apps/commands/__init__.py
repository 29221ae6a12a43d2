"""The commands, one a file. What is heavy is imported inside them, so that the command line answers at once."""
