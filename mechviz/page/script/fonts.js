/** The letters of a component: a browser takes faces from the document's own style sheets only, not from a shadow tree's. */

const FACE = /@font-face \{[^}]*\}/g;

/** The faces that one component has in its document; those of several are there once. */
export class Fonts {
  constructor(page) {
    this.page = page;
  }

  /** Put the faces of a style sheet into the document. */
  take(css) {
    const faces = (css.match(FACE) ?? []).join("\n");
    this.sheet = [...this.page.head.querySelectorAll("style[data-mechviz]")].find((one) => one.textContent === faces);
    if (!this.sheet) {
      this.sheet = this.page.createElement("style");
      this.sheet.dataset.mechviz = "0";
      this.sheet.textContent = faces;
      this.page.head.append(this.sheet);
    }
    this.#count(1);
  }

  /** Take them out again, unless another component needs them. */
  leave() {
    if (!this.sheet) return;
    this.#count(-1);
    if (this.sheet.dataset.mechviz === "0") this.sheet.remove();
    this.sheet = null;
  }

  #count(more) {
    this.sheet.dataset.mechviz = String(Number(this.sheet.dataset.mechviz) + more);
  }
}
