/**
 * Solids as 3MF (3MF Consortium, Core Specification 1.3; the package by ECMA-376 part 2): an object for each, in place, in
 * millimetres. Right-handed axes as in STL: X to the nose, Y to port, Z up, each triangle turned round with it. Corners in
 * one place are one vertex, so that every edge is shared by two triangles, as the specification asks (section 4.1.3).
 */
import type { Body, Mesh } from '../../geometry/types';
import { ByteText, encoded } from './bytes';
import { CornerNumbers } from './cornerNumbers';
import { properTriangles } from './solids';
import { stampLine, type Stamp } from './stamp';
import { xml } from './svg';
import { writeZip } from './zip';

const NAMESPACE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n';

const [X, Y, Z, VERTEX_END] = ['<vertex x="', '" y="', '" z="', '"/>'].map(encoded);
const [FIRST, SECOND, THIRD] = ['<triangle v1="', '" v2="', '" v3="'].map(encoded);

/** Corners are given to a tenth of a micrometre: places after the point, and what a mm is then. */
const PLACES = 4;
const PER_MM = 10 ** PLACES;

function writeMesh(file: ByteText, mesh: Mesh): void {
  const { positions: p } = mesh;
  const indices = properTriangles(mesh);
  const places = new CornerNumbers(p.length / 3);
  const numbers = new Int32Array(p.length / 3).fill(-1);
  const at = (i: number): number => {
    if (numbers[i] < 0) numbers[i] = places.numberOf(Math.round(p[3 * i] * PER_MM), Math.round(-p[3 * i + 1] * PER_MM), Math.round(p[3 * i + 2] * PER_MM));
    return numbers[i];
  };
  const corners = new Int32Array(indices.length);
  let kept = 0;
  for (let i = 0; i < indices.length; i += 3) {
    const [a, b, c] = [at(indices[i]), at(indices[i + 2]), at(indices[i + 1])];
    // A sliver whose corners print as one is none.
    if (a === b || b === c || c === a) continue;
    corners[kept++] = a;
    corners[kept++] = b;
    corners[kept++] = c;
  }
  file.words('<mesh><vertices>');
  for (let i = 0; i < 3 * places.count; i += 3) {
    const { figures } = places;
    file.bytes(X).decimal(figures[i], PLACES).bytes(Y).decimal(figures[i + 1], PLACES).bytes(Z).decimal(figures[i + 2], PLACES).bytes(VERTEX_END);
  }
  file.words('</vertices><triangles>');
  for (let i = 0; i < kept; i += 3) file.bytes(FIRST).count(corners[i]).bytes(SECOND).count(corners[i + 1]).bytes(THIRD).count(corners[i + 2]).bytes(VERTEX_END);
  file.words('</triangles></mesh>');
}

/** The whole package. */
export function writeThreeMf(solids: readonly Pick<Body, 'id' | 'mesh'>[], title: string, stamp: Stamp): Uint8Array {
  const model = new ByteText();
  model.words(`${HEAD}<model unit="millimeter" xml:lang="en" xmlns="${NAMESPACE}"><metadata name="Title">${xml(`${stamp.board}: ${title}`)}</metadata>`)
    .words(`<metadata name="Description">${xml(stampLine(stamp, 'millimetres'))}</metadata><metadata name="Application">Railwright</metadata><resources>`);
  solids.forEach(({ id, mesh }, i) => {
    model.words(`${i === 0 ? '' : '\n'}<object id="${i + 1}" type="model" name="${xml(id.replace(/-/g, ' '))}">`);
    writeMesh(model, mesh);
    model.words('</object>');
  });
  model.words(`</resources><build>${solids.map((_, i) => `<item objectid="${i + 1}"/>`).join('')}</build></model>\n`);
  const types = `${HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>` +
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>\n';
  const links = `${HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>\n`;
  return writeZip([
    { path: '[Content_Types].xml', bytes: encoded(types) }, { path: '_rels/.rels', bytes: encoded(links) }, { path: '3D/3dmodel.model', bytes: model.whole() },
  ], stamp.date);
}
