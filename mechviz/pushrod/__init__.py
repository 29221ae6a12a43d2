"""The fit of a slack adjuster: the pushrod to cut, the hole to use, what a sixteenth does, and the worm's setting."""
