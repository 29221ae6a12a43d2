/** How much room the page has: by its own width, for it may be a part of another one. The style sheet asks the same. */

const NARROW = 1000;
const WIDE = 1700;

/** Whether everything stands in one column. */
export const narrow = (root) => root.offsetWidth > 0 && root.offsetWidth <= NARROW;

/** Whether there is room for the drawing and the solid side by side. */
export const wide = (root) => root.offsetWidth >= WIDE;
