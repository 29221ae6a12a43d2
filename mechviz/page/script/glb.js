/** Surfaces from a GLB file as mechviz/page/glb.py writes it. */

const JSON_AT = 20;
const TRIANGLES = 4;
const KINDS = {5120: Int8Array, 5122: Int16Array, 5123: Uint16Array};

/** By a surface's name: `points` (mm) and `normals`, three numbers each, `corners` of triangles, ends of `edges`. */
export function surfaces(buffer) {
  const view = new DataView(buffer);
  const length = view.getUint32(12, true);
  const gltf = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, JSON_AT, length)));
  const start = JSON_AT + length + 8;
  const read = (index) => values(gltf, buffer, start, index);
  return new Map(gltf.nodes.map((node) => [node.name, surface(gltf.meshes[node.mesh], node.scale[0], read)]));
}

function surface({primitives}, step, read) {
  const [faces, lines] = primitives;
  const {POSITION, NORMAL} = faces.attributes;
  return {
    points: scaled(read(POSITION), step),
    normals: scaled(read(NORMAL), 1 / 127),
    corners: read(faces.indices),
    edges: lines && lines.mode !== TRIANGLES ? read(lines.indices) : new Uint16Array(0),
  };
}

/** An accessor's numbers: as they are, or of rows of three filled up to four only the three. */
function values(gltf, buffer, start, index) {
  const {bufferView, componentType, count, type} = gltf.accessors[index];
  const {byteOffset, byteLength} = gltf.bufferViews[bufferView];
  const Kind = KINDS[componentType];
  const all = new Kind(buffer.slice(start + byteOffset, start + byteOffset + byteLength));
  if (type === "SCALAR") return all;
  const rows = new Kind(3 * count);
  for (let i = 0; i < count; i += 1) rows.set(all.subarray(4 * i, 4 * i + 3), 3 * i);
  return rows;
}

function scaled(whole, step) {
  return Float32Array.from(whole, (value) => value * step);
}
