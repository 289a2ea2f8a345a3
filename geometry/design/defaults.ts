/** A plain board to begin from: every field filled with a usual size, nothing shaped yet. */
import { BOARD_FORMAT, BOARD_VERSION, type Design, type LengthCurveDesign } from './schema';

const LENGTH = 1800;

const level = (v: number): LengthCurveDesign => ({ points: [{ x: 0, v }, { x: LENGTH, v }] });

/** A valid 1.8 m design with a pointed nose, a square tail and a flat bottom. A new object each time. */
export function blankDesign(): Design {
  return {
    format: BOARD_FORMAT,
    version: BOARD_VERSION,
    name: 'New board',
    revision: 'A',
    lines: {
      outline: {
        points: [
          { x: 0, y: 140 },
          { x: 300, y: 214 },
          { x: 850, y: 260 },
          { x: 1350, y: 188 },
          { x: LENGTH, y: 0 },
        ],
        tailAngleDeg: 17,
        noseAngleDeg: 30,
      },
      rocker: {
        points: [
          { x: 0, v: 40 },
          { x: 360, v: 10 },
          { x: 750, v: 0 },
          { x: 1260, v: 22 },
          { x: LENGTH, v: 110 },
        ],
      },
      thickness: {
        points: [
          { x: 0, v: 24 },
          { x: 400, v: 52 },
          { x: 850, v: 64 },
          { x: 1350, v: 50 },
          { x: LENGTH, v: 20 },
        ],
      },
      crown: level(0.08),
      concave: level(0),
      vee: level(0),
      apex: level(0.45),
      fullness: level(0.55),
      tuck: level(9),
      turn: level(11),
    },
    skins: { bottom: 4, deck: 4 },
    frames: {
      stringerThickness: 6,
      ribThickness: 6,
      ribs: [240, 425, 655, 885, 1120, 1355, 1570],
      leastWeb: 12,
      notchFit: 0.1,
      kerf: 0.15,
      sheet: { length: 1250, width: 620, price: 0 },
    },
    rail: {
      stripWidth: 12,
      soleThickness: 6,
      capThickness: 6,
      spacerWidth: 6,
      spacerHeight: 6,
      rows: 3,
      clearance: 0.5,
      glueLine: 0.1,
      leastRow: 300,
      fillSlot: false,
      outerLayers: 2,
      outerThickness: 5,
      shapingAllowance: 0,
      leastCover: 3,
      jointStagger: 150,
      joint: 'butt',
      scarfRatio: 10,
      blankOversize: 6,
      leastPiece: 300,
    },
    timber: {
      rail: 'paulownia-tomentosa',
      outer: 'paulownia-tomentosa',
      skins: 'paulownia-tomentosa',
      frames: 'okoume-plywood',
      sawKerf: 2.4,
      species: [],
      strips: [{ length: 2400, price: 0 }],
      spacers: [{ length: 2400, price: 0 }],
      boards: [{ length: 2400, width: 145, price: 0 }],
      skinPricePerM2: 0,
      currency: 'EUR',
    },
    spread: { strip: 0.2, skin: 0.2, glueLine: 0.05, kerf: 0.03, ribHeight: 0.3 },
  };
}
