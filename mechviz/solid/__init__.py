"""The brake as solids: every part in space, from the same outlines and the same pose table as the drawing.

`places` says where parts stand along the shaft, `making` how an outline becomes a solid, `foundation`, `wheel_end`,
`actuation`, `chamber` and `springs` what each part is made of, and `assembly` puts them together. `frames` carries the
pose table into space, `apart` takes the brake apart. Sizes that no setup states, here as in the outlines, are the
project's own for a plausible brake, not any maker's.
"""
