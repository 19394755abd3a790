import type { CheckCode, CheckReason } from '../circuit-checks/checks.js';
import type { FigureRef, MissingFigure } from '../pressure-ladder/pressure-ladder.types.js';
import type { ChangeCode, ChangeKind } from './changes.js';

/** The record of a circuit's facts in which a change sets a figure. */
export type Holder =
  | 'settings'
  | 'readings'
  | 'circuit'
  | 'power-unit'
  | 'component'
  | 'fixture'
  | 'element'
  | 'machine'
  | 'behaviour'
  | 'signal'
  | 'wire'
  | 'm-code';

/** One thing to do. Numbers are SI, of `kind`. */
export interface WayOutChange {
  code: ChangeCode;
  kind: ChangeKind;
  /** where its figure stands, and under which name */
  holder: Holder;
  id: string;
  field: string;
  ref: FigureRef | null;
  /** the figure as it is; null: it has none */
  from: number | null;
  /** between which it may be set; null: on that side nothing bounds it */
  lowest: number | null;
  highest: number | null;
  /** what goes with it: of a switch how far its set point lies above its reset point, of a relief its full flow above its opening [Pa] */
  apart: number | null;
  /** of a setting: the air that goes with it, at both ends of its range [Pa]; left out: it stays as it is */
  air?: { lowest: number | null; highest: number | null };
  /** what it is set to, where that is no number; null: it is a number, or a yes */
  choice: string | null;
  /** other circuits that what is changed feeds or serves too: they are to be looked at */
  alsoReaches: readonly FigureRef[];
}

/** Why no change, or no more of them, can make a check hold. */
export interface WayOutBound {
  code: CheckCode;
  reason: CheckReason;
  subject: FigureRef | null;
  /** what it takes and what bounds it, in the unit of the check [SI]; null: that is no number */
  demand: number | null;
  capacity: number | null;
  /** of what no pressure holds: the load case */
  loadCase: string | null;
}

export interface WayOut {
  /** `nothing`: every check holds; `whole`: with the changes every check holds; `to-record`: nothing fails any more, and what is to be
   *  recorded decides; `none`: no set of changes makes every check hold */
  outcome: 'nothing' | 'whole' | 'to-record' | 'none';
  changes: readonly WayOutChange[];
  /** it is shown that no fewer changes do that leave no more to be found out; else no shorter way was found */
  isFewest: boolean;
  /** figures that somebody has to find out; none of them is put in for them */
  records: readonly MissingFigure[];
  /** checks that no set of these changes makes hold */
  bounds: readonly WayOutBound[];
}
