/**
 * What other programs take from the package: `import { readDesign, planBoard, planParts } from 'railwright'`. Millimetres and radians.
 * A board file's text becomes a design, a design a plan, a plan its parts, and plan and parts the papers; what is said of them is data
 * until `textOf` writes it in a unit.
 */
export { readDesign } from '../../geometry/design/read';
export { writeDesign } from '../../geometry/design/write';
export { boardFileSchema } from '../../geometry/design/fileSchema';
export { planBoard } from '../../geometry/plan';
export { planParts } from '../../geometry/planParts';
export { sectionAt } from '../../geometry/rail/query';
export { allFindings } from '../../geometry/rail/decisions';
export { BuildError, fieldErrorLine } from '../../geometry/errors';
export { makePapers } from '../papers';
export { textOf } from '../say/said';
export { typefaces } from './typefaces';

export type { Design } from '../../geometry/design/schema';
export type { ReadResult } from '../../geometry/design/read';
export type { FieldError } from '../../geometry/errors';
export type { Parts } from '../../geometry/parts/types';
export type { Said } from '../../geometry/said';
export type { Finding, Plan, RailSection, Stop } from '../../geometry/types';
export type { Paper, PaperOptions } from '../papers';
export type { Unit } from '../say/units';
