/**
 * The text that packed boards refer to: deflate may point back into it, which halves a link. Links name the
 * dictionary they were made with by their first digit, so this text never changes; a better one gets the next digit.
 */
export const DICTIONARY_1 =
  '"note":"","tailSlopeDeg":-8.5,"noseSlopeDeg":15},"onHand":4},{"length":2700,"width":150,"price":14.5,"currency":"USD",' +
  '"species":[{"id":"","name":"western-redcedar","balsa","joint":"scarf","fillSlot":true,"points":[{"x":437.5,"v":0.095},' +
  '{"x":875,"v":0.105},{"x":1312.5,"v":0.01},{"x":1750,"v":0.08}]},' +
  '{"format":"railwright-board","version":1,"name":"","revision":"A","lines":{"outline":{"points":[{"x":0,"y":140},' +
  '{"x":300,"y":214},{"x":850,"y":260},{"x":1350,"y":188},{"x":1800,"y":0}],"tailAngleDeg":17,"noseAngleDeg":30},' +
  '"rocker":{"points":[{"x":0,"v":40},{"x":360,"v":10},{"x":750,"v":0},{"x":1260,"v":22},{"x":1800,"v":110}]},' +
  '"thickness":{"points":[{"x":0,"v":24},{"x":400,"v":52},{"x":850,"v":64},{"x":1350,"v":50},{"x":1800,"v":20}]},' +
  '"crown":{"points":[{"x":0,"v":0.08},{"x":1800,"v":0.08}]},"concave":{"points":[{"x":0,"v":0},{"x":1800,"v":0}]},' +
  '"vee":{"points":[{"x":0,"v":0},{"x":1800,"v":0}]},"apex":{"points":[{"x":0,"v":0.45},{"x":1800,"v":0.45}]},' +
  '"fullness":{"points":[{"x":0,"v":0.55},{"x":1800,"v":0.55}]},"tuck":{"points":[{"x":0,"v":9},{"x":1800,"v":9}]},' +
  '"turn":{"points":[{"x":0,"v":11},{"x":1800,"v":11}]}},"skins":{"bottom":4,"deck":4},"frames":{"stringerThickness":6,' +
  '"ribThickness":6,"ribs":[240,425,655,885,1120,1355,1570],"leastWeb":12,"notchFit":0.1,"kerf":0.15,"sheet":' +
  '{"length":1250,"width":620,"price":0}},"rail":{"stripWidth":12,"soleThickness":6,"capThickness":6,"spacerWidth":6,' +
  '"spacerHeight":6,"rows":3,"clearance":0.5,"glueLine":0.1,"leastRow":300,"fillSlot":false,"outerLayers":2,' +
  '"outerThickness":5,"shapingAllowance":0,"leastCover":3,"jointStagger":150,"joint":"butt","scarfRatio":10,' +
  '"blankOversize":6,"leastPiece":300},"timber":{"rail":"paulownia-tomentosa","outer":"paulownia-tomentosa",' +
  '"skins":"paulownia-tomentosa","frames":"okoume","sawKerf":2.4,"species":[],"strips":[{"length":2400,"price":0}],' +
  '"spacers":[{"length":2400,"price":0}],"boards":[{"length":2400,"width":145,"price":0}],"skinPricePerM2":0,' +
  '"currency":"EUR"},"spread":{"strip":0.2,"skin":0.2,"glueLine":0.05,"kerf":0.03,"ribHeight":0.3}}';

/** The same for version 2 of the board file, with what that brought. */
export const DICTIONARY_2 =
  '"woodClass":"hardwood","planks":[{"thickness":25,"skinPlanks":[{"methods":{"sole":{"tail":"block","nose":"forced"},"rows":' +
  '{"cap":{"skins":{"split","layers","strap"},"consents":{"split":true,"strap":true},"ends":{"tail":{"block":"ring","skins":"wrapped"},' +
  '"nose":{"block":"solid","skins":"butted"},"ringWidth":40},"vent":{"x":750,"y":0,"through":"deck","diameter":10},"fittings":' +
  '[{"kind":"leash","x":120,"y":0,"length":60,"width":40,"under":"deck","depth":20},{"kind":"fin","under":"bottom"},{"kind":"handle"}],' +
  '"adhesive":{"name":"","spread":200,"openMinutes":15,"clampMinutes":240},"weights":{"finish":0.4,"vent":0.02,"fittings":0.3},' +
  DICTIONARY_1.replace('"version":1', '"version":2');

/** The same for readings files, version 2: what lies beside a board. */
export const RECORD_DICTIONARY_1 =
  '"ticks":["bottom-skin-on-the-bench","stringer-and-ribs","clean-the-rib-ends","sole-dry","sole-glued","cap","spacer-rows",' +
  '"clamps-moved-to-hold-the-whole-box","the-other-side","fair-the-box-to-the-deck","trim-the-bottom-skin","outer-skins",' +
  '"trim-and-fair-the-outer-skins","nose-and-tail-blocks","deck-skin","shape-the-rail-round","seal"],"step":7,"note":"",' +
  '"trials":[{"of":"outer","width":140,"thickness":5,"bent":"flat","radius":250,"heat":"wet","held":false,"note":""},' +
  '{"of":"rail","width":12,"thickness":6,"bent":"edge","radius":1000,"heat":"cold","held":true},{"of":"batch","sole":6,"cap":6,"spacer":6},' +
  '{"of":"rib","rib":1,"side":"port","depth":40.5,"sole":6,"cap":6.1,"spacer":6,"tab":20.4,"bevelDeg":8.5},' +
  '{"format":"railwright-readings","version":2,"board":"","revision":"A","readings":[{"of":"rib","rib":1,"side":"starboard","depth":';
