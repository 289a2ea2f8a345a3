/**
 * Solids as 3MF (3MF Consortium, Core Specification 1.3; the package by ECMA-376 part 2): an object for each, in place, in
 * millimetres. Right-handed axes as in STL: X to the nose, Y to port, Z up, each triangle turned round with it. Corners in
 * one place are one vertex, so that every edge is shared by two triangles, as the specification asks (section 4.1.3).
 */
import type { Body, Mesh } from '../../geometry/types';
import { tidy } from './drawing';
import { properTriangles } from './solids';
import { stampLine, type Stamp } from './stamp';
import { xml } from './svg';
import { writeZip } from './zip';

const NAMESPACE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n';

function meshWords(mesh: Mesh): string {
  const { positions: p } = mesh;
  const numbers = new Map<string, number>();
  const vertices: string[] = [];
  const at = (i: number): number => {
    const words = `x="${tidy(p[3 * i])}" y="${tidy(-p[3 * i + 1])}" z="${tidy(p[3 * i + 2])}"`;
    const known = numbers.get(words);
    if (known !== undefined) return known;
    numbers.set(words, vertices.length);
    return vertices.push(`<vertex ${words}/>`) - 1;
  };
  const indices = properTriangles(mesh);
  const triangles: string[] = [];
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [at(indices[i]), at(indices[i + 2]), at(indices[i + 1])];
    // A sliver whose corners print as one is none.
    if (a !== b && b !== c && c !== a) triangles.push(`<triangle v1="${a}" v2="${b}" v3="${c}"/>`);
  }
  return `<mesh><vertices>${vertices.join('')}</vertices><triangles>${triangles.join('')}</triangles></mesh>`;
}

/** The whole package. */
export function writeThreeMf(solids: readonly Pick<Body, 'id' | 'mesh'>[], title: string, stamp: Stamp): Uint8Array {
  const objects = solids.map(({ id, mesh }, i) => `<object id="${i + 1}" type="model" name="${xml(id.replace(/-/g, ' '))}">${meshWords(mesh)}</object>`);
  const model = `${HEAD}<model unit="millimeter" xml:lang="en" xmlns="${NAMESPACE}"><metadata name="Title">${xml(`${stamp.board}: ${title}`)}</metadata>` +
    `<metadata name="Description">${xml(stampLine(stamp, 'millimetres'))}</metadata><metadata name="Application">Railwright</metadata>` +
    `<resources>${objects.join('\n')}</resources><build>${solids.map((_, i) => `<item objectid="${i + 1}"/>`).join('')}</build></model>\n`;
  const types = `${HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>\n';
  const links = `${HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n`;
  const text = new TextEncoder();
  return writeZip([
    { path: '[Content_Types].xml', bytes: text.encode(types) }, { path: '_rels/.rels', bytes: text.encode(links) }, { path: '3D/3dmodel.model', bytes: text.encode(model) },
  ], stamp.date);
}
