export { toElement, toSvgString, type SvgElement, type SvgNode } from './svg/element.js';
export { PALETTES, toColour, type Paint, type PaintName } from './svg/paint.js';
export { toStatusColour, toStatusMark, type StatusShape } from './svg/status-mark.js';
export { getTextWidth, toWrapped, type Face } from './svg/text-width.js';
export { pressureLadder } from './pressure-ladder/pressure-ladder.js';
export { toLayout, type RungLayout } from './pressure-ladder/layout.js';
export {
  miniPressureLadder,
  type MiniPressureLadderOptions,
  type MiniPressureLadderPressures,
} from './pressure-ladder/mini-pressure-ladder.js';
export type {
  DrawnCircuit,
  DrawnRung,
  PressureLadderWords,
  PressureLadderOptions,
  RungCode,
} from './pressure-ladder/types.js';
