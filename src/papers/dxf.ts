/** A drawing as DXF, full size in millimetres ($INSUNITS 4), one layer for each of the template's layers. */
import { Colors, DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import { drawingStrokes, DRAWING_LAYERS, type Drawing, type DrawingLayer } from './drawing';
import { stampLine, type Stamp } from './stamp';

const INK: Readonly<Record<DrawingLayer, number>> = {
  cut: Colors.White,
  score: Colors.Blue,
  label: Colors.Cyan,
  stock: Colors.Green,
  note: Colors.Magenta,
};

/** Text that a DXF can hold on one line: control signs become spaces, and its own escapes are taken apart. */
const plain = (text: string): string =>
  Array.from(text, (letter) => ((letter.codePointAt(0) ?? 0) < 32 ? ' ' : letter)).join('').replace(/%%/g, '% %').replace(/\\/g, '/');

/** The whole file. (0, 0) is the drawing's lower left corner; the stamp is under it on the layer `note`. */
export function writeDxf(drawing: Drawing, stamp: Stamp): Uint8Array {
  const dxf = new DxfWriter();
  dxf.setUnits(Units.Millimeters);
  dxf.setVariable('$MEASUREMENT', { 70: 1 });
  for (const layer of DRAWING_LAYERS) dxf.addLayer(layer, INK[layer], 'Continuous');
  for (const { layer, points, closed } of drawingStrokes(drawing)) {
    const vertices = [];
    for (let i = 0; i + 1 < points.length; i += 2) vertices.push({ point: point2d(tidy(points[i]), tidy(points[i + 1])) });
    if (vertices.length > 1) {
      dxf.addLWPolyline(vertices, { layerName: layer, flags: closed ? LWPolylineFlags.Closed : LWPolylineFlags.None });
    }
  }
  dxf.addText(point3d(0, -12), 5, plain(drawing.title), { layerName: 'note' });
  dxf.addText(point3d(0, -20), 4, plain(stampLine(stamp, 'millimetres, full size')), { layerName: 'note' });
  return new TextEncoder().encode(dxf.stringify());
}

/** To a tenth of a micrometre, no "-0". */
const tidy = (value: number): number => Math.round(value * 1e4) / 1e4 + 0;
