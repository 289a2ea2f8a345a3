/** The board file's JSON Schema, for editors and other programs: shapes and ranges from the file's own schema, words from here. */
import * as z from 'zod/mini';
import { fieldUnit, type Path } from './fields';
import { boardSchema } from './schema';
import { ADDRESS_LIMIT } from './schemaAddress';
import type { Dimension } from '../said';

/** What each field holds, by its path; a list's entries stand under [], and what every curve or stock shares under *. */
const WORDS: Readonly<Record<string, string>> = {
  $schema: 'Where this schema is kept; of no matter to the plan',
  format: 'What kind of file this is', version: 'Version of the board file', name: 'Name of the board', revision: 'Revision of the design', note: 'Notes of the maker',
  lines: 'The shape of the board', 'lines.outline': 'Half the board seen from above, tail to nose',
  'lines.outline.tailAngleDeg': 'Direction from the centreline at which the outline leaves the tail: 90 is round, less a point, absent free',
  'lines.outline.noseAngleDeg': 'Direction from the centreline at which the outline reaches the nose: 90 is round, less a point, absent free',
  'lines.outline.points[].y': 'Half-breadth there',
  'lines.rocker': 'Height of the bottom on the centreline above the bench', 'lines.thickness': 'Depth on the centreline, finished outside to finished outside',
  'lines.crown': 'Deck rise over half-breadth', 'lines.concave': 'Concave depth over half-breadth', 'lines.vee': 'Vee rise over half-breadth: the edge above the centreline',
  'lines.apex': 'Apex height as a fraction of the edge depth, from the bottom', 'lines.fullness': 'Fullness of the rail round: 0 a chamfer, near 1 boxy',
  'lines.tuck': 'How far in from the apex the rail turns into the bottom', 'lines.turn': 'How far in from the apex the rail round meets the deck',
  'lines.*.points': 'Points of the curve, from tail to nose', 'lines.*.points[]': 'A point of the curve', 'lines.*.points[].x': 'Distance from the tail',
  'lines.*.points[].v': 'Value of the curve there', 'lines.*.points[].corner': 'Whether the curve turns sharply there',
  'lines.*.tailSlopeDeg': 'Slope at the tail; absent, the curve ends straight', 'lines.*.noseSlopeDeg': 'Slope at the nose; absent, the curve ends straight',
  skins: 'Skins between the rails', 'skins.bottom': 'Thickness of the bottom skin', 'skins.deck': 'Thickness of the deck skin',
  frames: 'Stringer and ribs', 'frames.stringerThickness': 'Thickness of the stringer', 'frames.ribThickness': 'Thickness of a rib', 'frames.ribs': 'Where the ribs stand',
  'frames.ribs[]': 'Middle of a rib, distance from the tail', 'frames.leastWeb': 'Least timber left around a lightening hole', 'frames.notchFit': 'Clearance of a half-lap notch, whole',
  'frames.kerf': 'Width that the laser takes', 'frames.grain': 'Face grain of the sheets: along every part (so where absent), or either way',
  'frames.sheet': 'Sheet that frames are cut from', rail: 'The box of the rail', 'rail.stripWidth': 'Width of sole and cap',
  'rail.soleThickness': 'Thickness of the sole', 'rail.capThickness': 'Thickness of the cap', 'rail.spacerWidth': 'Width of a spacer', 'rail.spacerHeight': 'Height of a spacer',
  'rail.rows': 'Most spacer rows', 'rail.clearance': 'Clearance above a stack of rows, glue included, before the last row counts as fitting',
  'rail.glueLine': 'Thickness of a glue line', 'rail.leastRow': 'Rows shorter than this are dropped', 'rail.fillSlot': 'Whether a last, lower row is ripped to fill the slot left above the others',
  'rail.outerLayers': 'Layers of the outer skins', 'rail.outerThickness': 'Thickness of one outer layer', 'rail.shapingAllowance': 'Room kept outside the outer skins for an edging laid on before shaping',
  'rail.leastCover': 'Least timber left outside the box after shaping', 'rail.jointStagger': 'Least distance between joints of neighbouring layers', 'rail.joint': 'Joint of two lengths',
  'rail.scarfRatio': 'Length of a scarf over its thickness', 'rail.blankOversize': 'Oversize of a skin blank', 'rail.leastPiece': 'Least length of a piece',
  timber: 'Timber, and what is on hand', 'timber.rail': 'Timber of sole, spacers and cap, by its id', 'timber.outer': 'Timber of the outer skins, by its id',
  'timber.skins': 'Timber of deck and bottom, by its id', 'timber.frames': 'Timber of the frames, by its id', 'timber.sawKerf': 'What the saw takes, and the plane after it where it is counted in',
  'timber.species': 'Timbers of the maker’s own', 'timber.species[]': 'A timber', 'timber.species[].id': 'What it is called in this file', 'timber.species[].name': 'Its name',
  'timber.species[].density': 'Density', 'timber.species[].moe': 'Stiffness in bending', 'timber.species[].mor': 'Strength in bending',
  'timber.species[].dryLimit': 'Strain it takes cold', 'timber.species[].steamLimit': 'Strain it takes in wet heat', 'timber.species[].woodClass': 'Softwood (so where absent) or hardwood',
  'timber.species[].note': 'Notes', 'timber.strips': 'Strips as bought', 'timber.spacers': 'Spacers as bought', 'timber.boards': 'Boards that skin blanks are cut from',
  'timber.planks': 'Planks that strips and spacers are ripped from', 'timber.skinPlanks': 'Planks that deck and bottom are glued up from',
  'timber.*[]': 'One size of it', 'timber.*[].length': 'Length', 'timber.*[].width': 'Width', 'timber.*[].thickness': 'Thickness', 'timber.*[].price': 'Price of one',
  'timber.*[].onHand': 'Pieces on hand; absent, as many as needed', 'timber.skinPricePerM2': 'Price of a square metre of skin', 'timber.currency': 'What prices are in',
  'frames.sheet.length': 'Length of a sheet', 'frames.sheet.width': 'Width of a sheet', 'frames.sheet.price': 'Price of a sheet',
  methods: 'The most that is done to bend each kind of strip at either end', 'methods.sole': 'Of the sole', 'methods.rows': 'Of the spacer rows', 'methods.cap': 'Of the cap', 'methods.skins': 'Of the outer skins',
  'methods.*.tail': 'At the tail', 'methods.*.nose': 'At the nose', consents: 'What the maker agrees to where wet heat does not do',
  'consents.split': 'Strips split on their width', 'consents.strap': 'A strap on the back of a strip', ends: 'What fills the ends where strips stop before them',
  'ends.tail': 'At the tail', 'ends.nose': 'At the nose', 'ends.*.block': 'A ring or a solid block', 'ends.*.skins': 'Whether outer skins go round the block or butt on it',
  'ends.ringWidth': 'Width of a ring along the box face', settled: 'Findings that the maker settles at the bench', 'settled[]': 'Cause of such a finding',
  vent: 'Where the air goes in and out', 'vent.through': 'Skin that it goes through', 'vent.diameter': 'Diameter of its hole',
  '*.x': 'Distance from the tail', '*.y': 'Distance to starboard of the centreline', fittings: 'Blocks for what is screwed or plugged into the board', 'fittings[]': 'A block',
  'fittings[].kind': 'What it holds', 'fittings[].x': 'Distance of its middle from the tail', 'fittings[].y': 'Distance of its middle to starboard of the centreline',
  'fittings[].length': 'Length along the board', 'fittings[].width': 'Width across the board', 'fittings[].under': 'Skin that it lies under',
  'fittings[].depth': 'Depth from that skin; absent, from skin to skin', 'fittings[].name': 'Its name', adhesive: 'The glue, by its maker’s data sheet', 'adhesive.name': 'Its name',
  'adhesive.spread': 'Glue on a square metre', 'adhesive.openMinutes': 'Open time', 'adhesive.clampMinutes': 'Time in clamps',
  weights: 'What the maker puts on beside timber and glue', 'weights.finish': 'Weight of the finish', 'weights.vent': 'Weight of the vent', 'weights.fittings': 'Weight of the fittings',
  spread: 'Half-widths of the spread of each size as bought, cut or glued', 'spread.strip': 'Of a strip', 'spread.skin': 'Of a skin', 'spread.glueLine': 'Of a glue line',
  'spread.kerf': 'Of the laser’s width', 'spread.ribHeight': 'Of a rib’s height',
};

const UNIT_WORDS: Partial<Record<Dimension, string>> = { mm: 'millimetres', deg: 'degrees', 'kg/m3': 'kilograms per cubic metre', MPa: 'megapascals', 'g/m2': 'grams per square metre', min: 'minutes', kg: 'kilograms' };

/** What is said of a field: its own words, or those that all of its kind share. */
function wordsOf(path: Path): string | undefined {
  const text = path.reduce<string>((all, part) => (typeof part === 'number' ? `${all}[]` : all === '' ? String(part) : `${all}.${String(part)}`), '');
  return WORDS[text] ?? WORDS[text.replace(/\.[a-zA-Z]+/, '.*')] ?? WORDS[text.replace(/^[a-zA-Z]+/, '*')];
}

type Node = z.core.JSONSchema.BaseSchema;

function describe(node: Node, path: Path): Node {
  const words = wordsOf(path);
  const unit = node.type === 'number' || node.type === 'integer' ? UNIT_WORDS[fieldUnit(path)] : undefined;
  const parts: Node = {
    ...node,
    ...(node.properties ? { properties: Object.fromEntries(Object.entries(node.properties).map(([key, one]) => [key, describe(one as Node, [...path, key])])) } : {}),
    ...(node.items ? { items: describe(node.items as Node, [...path, 0]) } : {}),
  };
  return words === undefined ? parts : { description: unit === undefined ? words : `${words}; ${unit}`, ...parts };
}

/**
 * The JSON Schema (draft 2020-12) of a board file of the present version, with a description and unit of each field. It
 * holds shapes and ranges; what fields ask of each other only the reader knows. Text counts here in whole characters,
 * in the reader in UTF-16 halves: the reader is the stricter.
 */
export function boardFileSchema(): Node {
  const made = z.toJSONSchema(boardSchema) as Node;
  return describe({ title: 'Railwright board file', ...made, properties: { $schema: { type: 'string', maxLength: ADDRESS_LIMIT }, ...made.properties } }, []);
}
