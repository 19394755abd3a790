/** Second like machines, circuits and fixtures, component sets and controls. */
export const copyMessages = {
  'copy.action': 'Copy',
  'copy.machine': 'Copy {name}: a second like machine',
  'copy.circuit': 'Copy {name}',
  'copy.fixture': 'Copy {name}: a second like fixture',
  'copy.save': 'Make the copy',
  'copy.machineTakes':
    'Taken over: power units, circuits, components with their designations and figures, targets, M-codes, signals and wires. Not taken over: serials, lots, readings, sizing records, issues, papers, and what was measured. At another site its plant air and cold oil are asked for anew. The settings of the copy have not been measured.',
  'copy.circuitTakes':
    'Taken over: figures, components and target. Not taken over: serials, lots, readings and sizing records; signals and wires belong to the control. The settings of the copy have not been measured.',
  'copy.fixtureTakes':
    'Taken over: elements with their figures, and the operations of today. The copy is fitted nowhere yet.',
  'copy.siteHint': 'Where the second machine stands',
  'copy.stationsHint': 'Remove those that the second machine does not have, with all that hangs on them.',
  'copy.fittedFrom': 'Components fitted at',
  'copy.reason': 'Reason',
  'copy.reasonHint': 'Stands at each component and at each target of the copy',
  'copy.usualReason': 'Like {name}; not measured here yet',
  'copy.circuitNumber': 'Circuit number in designations',
  'copy.circuitNumberHint': 'H1.4 becomes H2.4 where it is 2',
  'copy.onto': 'Onto',
  'copy.likeCircuit': 'Like circuit',
  'copy.likeCircuitHint': 'Of any machine; onto a power unit, it names the power unit that feeds it',
  'copy.noCircuitFits': 'No circuit fits',
  'copy.components': 'Fit what a like circuit has',
  'copy.componentsNumberHint': 'Empty: designations stay as they are; with 2, H1.4 becomes H2.4',
  'copy.componentsReason': 'As on a like circuit',
  'copy.componentsReasonHint': 'Stands at each component',
  'copy.componentsTakes':
    'Taken over: components with their designations and figures, as they are fitted there today. Not taken over: serials, lots and dates of manufacture.',
  'copy.componentsAre':
    '{count, plural, one {# component} other {# components}}: {designations}. Serials, lots and dates of manufacture are not taken over.',
  'copy.noComponents': 'No component is fitted there',
  'copy.control': 'Take over the control of a like machine',
  'copy.likeMachine': 'Like machine',
  'copy.noMachineFits': 'No machine fits',
  'copy.controlTakes':
    'Taken over: M-codes, signals and wires, and what the control does where nothing is said of it here. Polarity is looked at on this machine.',
  'copy.controlPair': '{name} is wired like {like} there.',
  'copy.circuitNumberTaken': '{designation} is fitted on this machine already: choose another number',
} as const;
