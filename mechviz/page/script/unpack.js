/** What the page carries packed: surfaces, and three.js, which is only loaded when somebody looks at the solids. */

/** The bytes of a packed text (zlib's format, base64), as a promise. */
export function unpack(text) {
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return new Response(stream).arrayBuffer();
}

let loading = null;

/** three.js as a module, as a promise: loaded once, however many brakes are on the page. */
export function three(text) {
  loading ??= unpack(text).then((code) => {
    const url = URL.createObjectURL(new Blob([code], {type: "text/javascript"}));
    return import(url).finally(() => URL.revokeObjectURL(url));
  });
  return loading;
}
