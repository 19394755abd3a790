/** The changes that a way out is made of: plain data, so that a contract and a page can go by them. In the order in which they are done. */

/** How far a change may go: to no less, to no more, between two ends, or to the one thing that it says. */
export type Way = 'up' | 'down' | 'between' | 'only';
/** What its figure is, so that it can be shown: `none` of what is no figure. */
export type ChangeKind =
  | 'pressure'
  | 'time'
  | 'power'
  | 'voltage'
  | 'current'
  | 'force'
  | 'flow'
  | 'volume'
  | 'area'
  | 'length'
  | 'ratio'
  | 'none';

interface Change {
  readonly way: Way;
  readonly kind: ChangeKind;
}

export const CHANGES = {
  'move-switch': { way: 'only', kind: 'none' },
  reaction: { way: 'only', kind: 'none' },
  'own-signal': { way: 'only', kind: 'none' },
  'own-code': { way: 'only', kind: 'none' },
  'code-waits': { way: 'only', kind: 'none' },
  'prove-again': { way: 'only', kind: 'none' },
  'prove-open': { way: 'only', kind: 'none' },
  'keep-unclamp-open': { way: 'only', kind: 'none' },
  rating: { way: 'up', kind: 'pressure' },
  relief: { way: 'between', kind: 'pressure' },
  'fit-relief': { way: 'between', kind: 'pressure' },
  'sequence-valve': { way: 'between', kind: 'pressure' },
  'fit-sequence-valve': { way: 'between', kind: 'pressure' },
  'arm-pressure': { way: 'up', kind: 'pressure' },
  'highest-flow': { way: 'up', kind: 'flow' },
  'support-load': { way: 'up', kind: 'force' },
  'spring-force': { way: 'up', kind: 'force' },
  'return-pressure': { way: 'down', kind: 'pressure' },
  'burst-flow': { way: 'down', kind: 'flow' },
  'pad-radius': { way: 'up', kind: 'length' },
  'line-bore': { way: 'up', kind: 'length' },
  'flow-to-cylinders': { way: 'up', kind: 'flow' },
  'flow-from-cylinders': { way: 'up', kind: 'flow' },
  'throttle-return': { way: 'down', kind: 'flow' },
  'usable-volume': { way: 'up', kind: 'volume' },
  'free-volume': { way: 'up', kind: 'volume' },
  'pump-ratio': { way: 'up', kind: 'ratio' },
  'plant-air-low': { way: 'up', kind: 'pressure' },
  'plant-air-high': { way: 'down', kind: 'pressure' },
  'switch-accuracy': { way: 'down', kind: 'pressure' },
  'gauge-class': { way: 'down', kind: 'ratio' },
  'control-reaction': { way: 'down', kind: 'time' },
  'supply-power': { way: 'up', kind: 'power' },
  'supply-peak': { way: 'up', kind: 'power' },
  'separate-commons': { way: 'only', kind: 'none' },
  'control-voltage': { way: 'between', kind: 'voltage' },
  'cross-section': { way: 'up', kind: 'area' },
  'coil-voltage': { way: 'between', kind: 'voltage' },
  'coil-tolerance': { way: 'up', kind: 'ratio' },
  'coil-duty': { way: 'up', kind: 'ratio' },
  'suppression-voltage': { way: 'down', kind: 'voltage' },
  'fit-suppression': { way: 'down', kind: 'voltage' },
  'output-rating': { way: 'up', kind: 'voltage' },
  polarity: { way: 'only', kind: 'none' },
  protection: { way: 'down', kind: 'current' },
  insulation: { way: 'up', kind: 'voltage' },
  'clamp-time': { way: 'up', kind: 'time' },
  'unclamp-time': { way: 'up', kind: 'time' },
  'time-without': { way: 'down', kind: 'time' },
  'setting-tolerance': { way: 'down', kind: 'pressure' },
  'restart-tolerance': { way: 'down', kind: 'pressure' },
  'air-pressure': { way: 'between', kind: 'pressure' },
  setting: { way: 'between', kind: 'pressure' },
  'pump-restart': { way: 'between', kind: 'pressure' },
  switch: { way: 'between', kind: 'pressure' },
  'set-point': { way: 'between', kind: 'pressure' },
  leak: { way: 'down', kind: 'pressure' },
  'shared-lowest': { way: 'up', kind: 'pressure' },
} as const satisfies Readonly<Record<string, Change>>;

export type ChangeCode = keyof typeof CHANGES;
export const CHANGE_CODES = Object.keys(CHANGES) as ChangeCode[];
