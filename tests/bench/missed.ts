/** For each promise that may be missed, by how its line begins, the limit that stands in the way: told under the table where it is missed. */
export const STANDS: readonly (readonly [what: string, why: string])[] = [
  ['a full plan', 'a sample takes about 3 us (box face, rib-end line, both inner faces, bevel and cover), and boards over 2.8 m have 1450 to 1580 of them at 2 mm.'],
  ['a draft plan with its bodies', 'a draft of 4 mm is a third of it, its bodies the rest: ribs, stringer, blocks and strips in like parts, most of it looking for the feet of the skins\' inner faces. From TypeScript, as here, all are slower than in the page, whose build takes 5 to 7.5 ms for both.'],
  ['a family of a hundred', 'a board is 1.5 to 2 ms for its plan from wide samples, 0.3 to scale and check it, 0.6 to weigh its strips, skins and blocks and 0.6 to cut ribs and stringer: a hundred are 0.35 to 0.4 s of work, which two cores halve where nothing else runs on them.'],
  ['the bare evaluator', 'a bare point takes openNURBS a quarter of a microsecond, its call and nothing else; ours looks for its span, adds up sixteen products and gives the slopes too. Planning asks neither: its own queries are the line above.'],
  ['the skin blanks', 'every place where a layer may be parted is tried, and the least box round each piece found again.'],
  ['all papers', 'they are made one after the other on one thread: a fifth each goes to STEP, whose solids are fitted to curves, to PDFs, to 3MF, which is pressed, and to other triangles. A program that is not warm yet takes half as long again.'],
  ['first picture', 'the script is compiled, the context made and the first picture drawn by a software renderer on the same cores; the plan itself is about a tenth of it.'],
  ['script of the first load', 'react and react-dom are 68 kB, three 115, react-three-fiber 52 and the planner\'s program 45: 280 kB before a line of the page.'],
  ['main-thread work a plan shown', 'ribbon, labels, card, outline and stage all follow every move, and the browser lays them out and paints them: the table of stages tells each one\'s share.'],
  ['main-thread work a station shown', 'the section is cut again and ribbon, labels, card and stage follow it, each laid out and painted by the browser.'],
  ['the planner\'s work', 'see a draft plan with its bodies; compiling its program and tidying its memory count too.'],
  ['bytes to the page', 'a draft\'s bodies are 13 000 to 20 000 corners of 8 bytes, as many as their curves want for chords within 0.03 mm; ten fields of its samples, its hull and its ribs\' sections are 50 to 70 kB. All are handed over in less than 0.1 ms.'],
  ['bytes to the card', 'what moves under a hand is sent, and that is nearly every corner: see the line above. Triangles and ink lines stay on the card.'],
  ['a drag at 2560', 'the larger page has more to lay out and paint, which here the same two cores do.'],
];
