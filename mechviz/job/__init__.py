"""A job: one axle, two wheels, what was read on each in the order of the hands, and what follows from it.

`fields` is what can be read and how, `pictures` where; `model.Job` what was typed; `look.look` one wheel as judged;
`headline` its verdict in a line; `axle` both wheels side by side; `causes` and `fit` what may be wrong and the rod to
cut; `file` saves and loads; `sheet` prints. Nothing here asks a clock or a disk: both are the caller's.
"""
