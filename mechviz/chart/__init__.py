"""A chart of plots one above the other over one axis, with what happens on the way numbered, and a column of words.

`frame` says where everything stands, `axis` is what runs across, `panel` one plot, `marks` the numbered lines down
through all plots, `side` the column of words, `file` the chart as a file of any kind.
"""
