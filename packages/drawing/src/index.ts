export { toElement, toSvgString, type SvgElement, type SvgNode } from './svg/element.js';
export { PALETTES, toColour, type Paint, type PaintName } from './svg/paint.js';
export { toStatusColour, toStatusMark, type StatusShape } from './svg/status-mark.js';
export { getTextWidth, toFitted, type Face } from './svg/text-width.js';
export { pressureLadder } from './pressure-ladder/pressure-ladder.js';
export { toLayout, type LadderLayout } from './pressure-ladder/layout.js';
export { miniLadder, type MiniLadderOptions, type MiniLadderPressures } from './pressure-ladder/mini-ladder.js';
export type { DrawnCircuit, DrawnRung, LadderWords, PressureLadderOptions, RungCode } from './pressure-ladder/types.js';
