/** A drawing as DXF, full size in millimetres ($INSUNITS 4), its layers by the shop's names and colours. */
import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import { strokeBends, type Bend } from './arcs';
import { drawingStrokes, tidy, type Drawing, type Stroke } from './drawing';
import { curveWords, sentLayers, SHOP_COLOURS, type Shop } from './shop';
import { stampLine, type Stamp } from './stamp';

/** Text that a DXF can hold on one line: control signs become spaces, and its own escapes are taken apart. */
const plain = (text: string): string =>
  Array.from(text, (letter) => ((letter.codePointAt(0) ?? 0) < 32 ? ' ' : letter)).join('').replace(/%%/g, '% %').replace(/\\/g, '/');

/** A stroke's places as a polyline has them. */
function bendsOf(stroke: Stroke, { curves, within }: Shop): readonly Bend[] {
  const { layer, points } = stroke;
  if (curves === 'arcs' && layer !== 'label') return strokeBends(stroke, within);
  return Array.from({ length: points.length >> 1 }, (_, i) => ({ x: tidy(points[2 * i]), y: tidy(points[2 * i + 1]), bulge: 0 }));
}

/** The whole file. (0, 0) is the drawing's lower left corner; what is said of it is under it on the layer `note`. */
export function writeDxf(drawing: Drawing, stamp: Stamp, shop: Shop): Uint8Array {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  dxf.setVariable('$MEASUREMENT', { 70: 1 });
  const sent = sentLayers(shop);
  for (const id of sent) dxf.addLayer(shop.layers[id].name, SHOP_COLOURS[shop.layers[id].colour].number, 'Continuous');
  for (const stroke of drawingStrokes(drawing)) {
    if (!sent.includes(stroke.layer)) continue;
    const vertices = bendsOf(stroke, shop).map(({ x, y, bulge }) => ({ point: point2d(x, y), ...(bulge === 0 ? {} : { bulge }) }));
    if (vertices.length > 1) {
      dxf.addLWPolyline(vertices, { layerName: shop.layers[stroke.layer].name, flags: stroke.closed ? LWPolylineFlags.Closed : LWPolylineFlags.None });
    }
  }
  if (sent.includes('note')) {
    const layerName = shop.layers.note.name;
    const words = [plain(drawing.title), plain(stampLine(stamp, `millimetres, full size, ${curveWords(shop)}`)), ...(drawing.notes ?? []).map(plain)];
    words.forEach((line, i) => dxf.addText(point3d(0, -12 - 8 * i), i === 0 ? 5 : 4, line, { layerName }));
  }
  return new TextEncoder().encode(dxf.stringify());
}
