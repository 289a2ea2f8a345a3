/** What the kernel says, as text in the maker's unit: the one place where that is done. */
import { tell, type Dimension, type Figure, type Said } from '../../geometry/said';
import { signed } from './bands';
import { angleText, asGiven, fieldLength, fixed, lengthText, MM_PER_INCH, unitSign, type Unit } from './units';

/** A number told with its decimals, or as it stands. */
const number = (value: number, decimals: number | undefined, most?: number): string =>
  decimals === undefined ? asGiven(value, most) : Number.isFinite(value) ? fixed(value, decimals) : '–';

function bare(value: number, { of, decimals }: Figure, unit: Unit): string {
  switch (of) {
    case 'mm':
      return unit !== 'mm' || decimals === undefined ? fieldLength(value, unit) : lengthText(value, unit, decimals);
    case 'rad':
      return angleText(value, decimals);
    case 'mm2':
      return unit === 'mm' ? number(value / 1e6, 2) : number(value / (12 * MM_PER_INCH) ** 2, 1);
    case 'mm3':
      return number(value / 1e6, decimals, 2);
    case 'share':
    case 'strain':
      return number(100 * value, decimals, 2);
    default:
      return number(value, decimals);
  }
}

/** The sign behind a figure; degrees of a file carry theirs, those of an angle are told with it. */
const sign = (of: Dimension, unit: Unit): string => {
  switch (of) {
    case 'mm':
      return ` ${unitSign(unit)}`;
    case 'mm2':
      return unit === 'mm' ? ' m²' : ' sq ft';
    case 'mm3':
      return ' l';
    case 'deg':
      return '°';
    case 'share':
    case 'strain':
      return ' %';
    case 'rad':
    case 'count':
      return '';
    default:
      return ` ${of}`;
  }
};

/** A figure with its unit, told once however many there are. */
function figureText(figure: Figure, unit: Unit): string {
  const texts = [figure.value].flat().map((value) => {
    const text = bare(value, figure, unit);
    return figure.signed ? signed(value, () => text) : text;
  });
  return `${texts.join(` ${figure.between ?? 'to'} `)}${sign(figure.of, unit)}`;
}

/** Anything said, as text. */
export const textOf = (what: Said, unit: Unit): string => tell(what, (figure) => figureText(figure, unit));
