"""Every text on the first screen of every desk can be read, in both themes: contrast of 4.5:1 at least."""

import pytest

from tests.desks.conftest import Visit

LEAST = 4.5
FAINT = """() => {
  const found = [];
  const parsed = (colour) => {
    const [r, g, b, a = 1] = colour.match(/[\\d.]+/g).map(Number);
    return [r, g, b, a];
  };
  const over = (front, back) => front.slice(0, 3).map((one, n) => one * front[3] + back[n] * (1 - front[3]));
  const linear = (one) => (one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4);
  const light = (rgb) => rgb.reduce((sum, one, n) => sum + linear(one / 255) * [0.2126, 0.7152, 0.0722][n], 0);
  const parent = (node) => node.assignedSlot ?? node.parentElement ?? node.getRootNode().host ?? null;
  const behind = (node) => {
    const layers = [];
    for (let one = node; one; one = parent(one)) layers.push(parsed(getComputedStyle(one).backgroundColor));
    return layers.reverse().reduce((back, layer) => over(layer, back), [255, 255, 255]);
  };
  const exempt = (node) => node.closest(":disabled, svg, canvas, option, [aria-hidden=true]");
  const look = (root) => {
    for (const node of root.querySelectorAll("*")) {
      if (node.shadowRoot) look(node.shadowRoot);
      const own = [...node.childNodes].filter((one) => one.nodeType === 3);
      const words = own.map((one) => one.textContent.trim()).join("");
      const field = node.matches("input:not([type=file], [type=range], [type=radio], [type=checkbox]), select");
      if (!(words || field) || node.matches("script, style") || exempt(node)) continue;
      if (!node.checkVisibility({checkVisibilityCSS: true})) continue;
      const box = node.getBoundingClientRect();
      if (box.bottom < 0 || box.top > innerHeight || box.width < 2 || box.right < 0) continue;
      const back = behind(node), front = over(parsed(getComputedStyle(node).color), back);
      const [high, low] = [light(front), light(back)].sort((a, b) => b - a);
      found.push({words: words.slice(0, 40) || node.tagName, ratio: (high + 0.05) / (low + 0.05)});
    }
  };
  look(document);
  return found;
}"""


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("desk", ["", "instructor", "mechanic", "designer"])
def test_every_text_of_the_first_screen_can_be_read(visit: Visit, desk: str, theme: str) -> None:
    with visit(desk, color_scheme=theme) as it:
        it.page.wait_for_timeout(1500)
        found = it.page.evaluate(FAINT)
        assert len(found) > 15, "there is text to be read"
        assert [one for one in found if one["ratio"] < LEAST] == []
