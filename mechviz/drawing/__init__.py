"""The picture of a brake: where it stands, and every part in it, moved by the pose table.

One SVG, viewBox ``0 0 1600 900``. ``<g id="plane-wheel">`` and ``<g id="plane-arm">`` carry one scale; the arm plane is
mirrored in x, so that from the chamber's side the arm turns the way the cam does. Inside a plane each part is
``<g id="part-NAME" class="part verb-VERB" data-body="BODY" transform="matrix(...)">`` with its title, in its own frame
in mm; a shape that deforms is a ``<path id="deform-NAME">`` in the plane's frame; linings are clipped by
``#clip-drum``. `layout.Layout.data` gives the numbers to anyone who goes on drawing.
"""
