/**
 * Solids as STEP, ISO 10303-21 (clear text) by the application protocol AP214 (ISO 10303-214): each a manifold solid B-rep
 * of planes and B-spline surfaces, with edges that faces share. Millimetres and radians; right-handed axes with X to the
 * nose, Y to port and Z up: y is turned round, and each face with it, so that starboard stays starboard.
 */
import type { Brep, CurveData, PlaneData, SurfaceData } from '../../geometry/solid/brep/shell';
import { ByteText, encoded } from './bytes';
import { CornerNumbers } from './cornerNumbers';
import type { Stamp } from './stamp';

/** How near to each other faces and edges are said to meet, mm. */
const UNCERTAINTY = 1e-3;

/** A letter in clear text: quotes and strokes doubled, others than printable ASCII by their code (ISO 10303-21:2016, 6.4.3.3: the directives X2 and X4). */
function written(letter: string): string {
  if (letter === "'" || letter === '\\') return letter + letter;
  if (letter >= ' ' && letter <= '~') return letter;
  const code = letter.codePointAt(0) ?? 0;
  return code < 0x10000 ? `\\X2\\${code.toString(16).toUpperCase().padStart(4, '0')}\\X0\\` : `\\X4\\${code.toString(16).toUpperCase().padStart(8, '0')}\\X0\\`;
}

/** Clear text of the format. */
const text = (value: string): string => `'${Array.from(value, written).join('').replaceAll('\\X0\\\\X2\\', '')}'`;

/** A length is given to a hundredth of a micrometre: places after the point, and what a mm is then. Rounded, for sines and roots end in other digits from one engine to another, and the same board is to give the same file. */
const PLACES = 5;
const PER_MM = 10 ** PLACES;

/** A parameter or a direction as a real: the format wants a point in each. */
function exact(value: number): string {
  const short = String(Math.round(value * 1e9) / 1e9 + 0);
  if (short.includes('e')) return (short.includes('.') ? short : short.replace('e', '.e')).replace('e', 'E');
  return short.includes('.') ? short : `${short}.`;
}

const list = (items: readonly (string | number)[]): string => `(${items.join(',')})`;

/** Distinct knots with how often each comes. */
function knotWords(knots: Float64Array): { readonly times: string; readonly values: string } {
  const distinct: number[] = [];
  const times: number[] = [];
  for (const k of knots) {
    if (distinct.length > 0 && distinct[distinct.length - 1] === k) times[times.length - 1]++;
    else {
      distinct.push(k);
      times.push(1);
    }
  }
  return { times: list(times), values: list(distinct.map(exact)) };
}

const [NUMBER, IS, POINT, NEXT, POINT_END, DOT] = ['#', '=', "CARTESIAN_POINT('',(", ',', '));\n', '.'].map(encoded);

/** The entities of a file, numbered as they come; one that is written twice is one. Points and directions are the board's: y is turned round here. */
class Entities {
  readonly file = new ByteText();
  private count = 0;
  private readonly known = new Map<string, string>();
  private readonly places = new CornerNumbers(1 << 14);
  /** Names of the points, by their numbers among the places. */
  private readonly points: string[] = [];
  private readonly knots = new Map<Float64Array, ReturnType<typeof knotWords>>();

  add(words: string): string {
    const kept = this.known.get(words);
    if (kept !== undefined) return kept;
    const name = this.own(words);
    this.known.set(words, name);
    return name;
  }

  /** One that stands for itself, however it reads. */
  own(words: string): string {
    const name = `#${++this.count}`;
    this.file.words(`${name}=${words};\n`);
    return name;
  }

  /** The point at (x, y, z) of `p` from a place on. */
  point(p: ArrayLike<number>, at = 0): string {
    const [x, y, z] = [Math.round(p[at] * PER_MM), Math.round(-p[at + 1] * PER_MM), Math.round(p[at + 2] * PER_MM)];
    const i = this.places.numberOf(x, y, z);
    if (i === this.points.length) {
      this.file.bytes(NUMBER).count(++this.count).bytes(IS).bytes(POINT);
      this.real(x).bytes(NEXT);
      this.real(y).bytes(NEXT);
      this.real(z).bytes(POINT_END);
      this.points.push(`#${this.count}`);
    }
    return this.points[i];
  }

  /** The points of an array from one to before another, as a list. */
  run(points: Float64Array, from = 0, to = points.length / 3): string {
    let names = `(${this.point(points, 3 * from)}`;
    for (let i = from + 1; i < to; i++) names += `,${this.point(points, 3 * i)}`;
    return `${names})`;
  }

  private real(figure: number): ByteText {
    this.file.decimal(figure, PLACES);
    return figure % PER_MM === 0 ? this.file.bytes(DOT) : this.file;
  }

  direction(p: ArrayLike<number>): string {
    return this.add(`DIRECTION('',${list([p[0], -p[1], p[2]].map(exact))})`);
  }

  axes(origin: ArrayLike<number>, normal: ArrayLike<number>, along: ArrayLike<number>): string {
    return this.add(`AXIS2_PLACEMENT_3D('',${this.point(origin)},${this.direction(normal)},${this.direction(along)})`);
  }

  /** Knots in words: put together once for all that have them. */
  knotsOf(knots: Float64Array): ReturnType<typeof knotWords> {
    const kept = this.knots.get(knots);
    if (kept) return kept;
    const made = knotWords(knots);
    this.knots.set(knots, made);
    return made;
  }
}

function curveOf(file: Entities, { degree, knots, points: p }: CurveData): string {
  if (degree === 1 && p.length === 6) {
    const way = [p[3] - p[0], p[4] - p[1], p[5] - p[2]];
    const length = Math.hypot(...way);
    return file.add(`LINE('',${file.point(p)},${file.add(`VECTOR('',${file.direction(way.map((v) => v / length))},1.)`)})`);
  }
  const { times, values } = file.knotsOf(knots);
  return file.add(`B_SPLINE_CURVE_WITH_KNOTS('',${degree},${file.run(p)},.UNSPECIFIED.,.F.,.F.,${times},${values},.UNSPECIFIED.)`);
}

function surfaceOf(file: Entities, surface: SurfaceData | PlaneData): string {
  if ('normal' in surface) return file.add(`PLANE('',${file.axes(surface.origin, surface.normal, surface.along)})`);
  const { degreeU, degreeV, knotsU, knotsV, points } = surface;
  const nv = knotsV.length - degreeV - 1;
  const rows = Array.from({ length: points.length / (3 * nv) }, (_, i) => file.run(points, i * nv, (i + 1) * nv));
  const [u, v] = [file.knotsOf(knotsU), file.knotsOf(knotsV)];
  return file.add(`B_SPLINE_SURFACE_WITH_KNOTS('',${degreeU},${degreeV},${list(rows)},.UNSPECIFIED.,.F.,.F.,.F.,${u.times},${v.times},${u.values},${v.values},.UNSPECIFIED.)`);
}

/** One solid; its number in the file. Turned round, its surfaces look the other way, and loops are gone round the other way too. */
function solidOf(file: Entities, { id, vertices, edges, faces }: Brep): string {
  const corners = vertices.map((p) => file.own(`VERTEX_POINT('',${file.point(p)})`));
  const sides = edges.map(({ from, to, curve }) => file.own(`EDGE_CURVE('',${corners[from]},${corners[to]},${curveOf(file, curve)},.T.)`));
  const all = faces.map(({ surface, outward, loops }) => {
    const bounds = loops.map((loop, i) => {
      const ways = loop.toReversed().map(({ edge, forward }) => file.own(`ORIENTED_EDGE('',*,*,${sides[edge]},${forward ? '.F.' : '.T.'})`));
      return file.own(`${i === 0 ? 'FACE_OUTER_BOUND' : 'FACE_BOUND'}('',${file.own(`EDGE_LOOP('',${list(ways)})`)},.T.)`);
    });
    return file.own(`ADVANCED_FACE('',${list(bounds)},${surfaceOf(file, surface)},${outward === ('normal' in surface) ? '.T.' : '.F.'})`);
  });
  return file.own(`MANIFOLD_SOLID_BREP(${text(id.replace(/-/g, ' '))},${file.own(`CLOSED_SHELL('',${list(all)})`)})`);
}

/** The whole file: every solid by its name, in one product. */
export function writeStep(solids: readonly Brep[], title: string, stamp: Stamp): Uint8Array {
  const file = new Entities();
  file.file.words([
    'ISO-10303-21;', 'HEADER;',
    `FILE_DESCRIPTION((${text(`${title}, millimetres, revision ${stamp.revision || 'none'}`)}),'2;1');`,
    `FILE_NAME(${text(stamp.board)},'${stamp.date}T00:00:00',(''),(''),'Railwright','Railwright','');`,
    "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));", 'ENDSEC;', 'DATA;', '',
  ].join('\n'));
  const named = text(`${stamp.board}: ${title}`);
  const app = file.own("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
  file.own(`APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,${app})`);
  const product = file.own(`PRODUCT(${named},${named},'',(${file.own(`PRODUCT_CONTEXT('',${app},'mechanical')`)}))`);
  file.own(`PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(${product}))`);
  const formation = file.own(`PRODUCT_DEFINITION_FORMATION(${text(stamp.revision || 'none')},'',${product})`);
  const definition = file.own(`PRODUCT_DEFINITION('design','',${formation},${file.own(`PRODUCT_DEFINITION_CONTEXT('part definition',${app},'design')`)})`);
  const shape = file.own(`PRODUCT_DEFINITION_SHAPE('','',${definition})`);
  const length = file.own('(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))');
  const angle = file.own('(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))');
  const solid = file.own('(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())');
  const near = file.own(`UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(${exact(UNCERTAINTY)}),${length},'distance_accuracy_value','')`);
  const context = file.own(`(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((${near}))GLOBAL_UNIT_ASSIGNED_CONTEXT((${length},${angle},${solid}))REPRESENTATION_CONTEXT('',''))`);
  const axes = file.axes([0, 0, 0], [0, 0, 1], [1, 0, 0]);
  const breps = solids.map((each) => solidOf(file, each));
  const representation = file.own(`ADVANCED_BREP_SHAPE_REPRESENTATION(${named},${list([axes, ...breps])},${context})`);
  file.own(`SHAPE_DEFINITION_REPRESENTATION(${shape},${representation})`);
  return file.file.words('ENDSEC;\nEND-ISO-10303-21;\n').whole();
}
