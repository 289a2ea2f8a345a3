/** How the notches of a test piece are told. */
import type { TestNotch } from '../../geometry/frame/testPiece';
import { fineUnit, lengthText, type Unit } from './units';

/** A notch and the half-lap clearance that it stands for, on paper and page. */
export const notchWords = ({ letter, fit }: TestNotch, unit: Unit): string => `${letter} ${lengthText(fit, fineUnit(unit), 2)}`;
