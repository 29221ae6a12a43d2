"""The picture of a brake: both planes to scale, what pushes what, and every figure where it belongs.

`picture.picture` draws one state, `compare.comparison` three side by side, `printed.sheet` a page to print. What moves
such a picture by script may count on this:

- One SVG, viewBox ``0 0 1600 900``. ``<g id="plane-wheel">`` and ``<g id="plane-arm">`` carry one scale; the arm plane
  is mirrored in x, so that from the chamber's side the arm turns the way the cam does.
- Inside a plane each part is ``<g id="part-NAME" class="part verb-VERB" data-body="BODY" transform="matrix(...)">``
  with its title and what it does, in its own frame in mm, back to front. NAME and BODY are those of
  `geometry.outlines` and of the pose table, with hyphens in an id; parts of one body have one matrix. A shape that
  deforms is a ``<path id="deform-NAME">`` in the plane's frame. Linings are clipped by ``#clip-drum``.
- Notes lie over the planes in picture units, each a ``<g id="note-NAME">``: ``title``, ``shaft`` (camshaft's centre
  line), ``magnifier``, ``cam`` (turn of cam and arm), ``verdict`` (stroke against its limit), ``stroke`` (rule along
  the pushrod), ``push`` (arrows), ``drum`` (which way it turns), ``gap`` (round both linings), ``chain`` (the chain of
  motion in words), ``angle`` (arm angle), ``labels``, ``foot`` (caution, and a bar that tells the scale); and
  ``parking`` (the power spring's name) where a parking section is fitted, which is drawn held back by its air.
- Figures have ids where they exist: ``value-stroke``, ``-limit``, ``-margin``, ``-pressure``, ``-chamber-force``,
  ``-left`` (before the chamber bottoms), ``-arm-angle``, ``-arm-turn``, ``-cam-turn``, ``-gap-least``,
  ``-brake-torque``, ``-drum``.
- Side by side, ``first-``, ``second-`` and ``third-`` come before every id.

`layout.Layout.data` gives the numbers to anyone who goes on drawing: the scale, both camshaft centres, the 0 of the
stroke's rule, and the boxes of the notes.
"""
