export const calculationMessages = {
  'calculations.title': 'What do you want to know?',
  'calculations.under':
    'The calculations that the checks themselves use, by hand. Each says its formula, range and source.',
  'calculations.search': 'Find a calculation',
  'calculations.none': 'Nothing fits',
  'calculations.noneText': 'Try another word: clamp, switch, gauge, air, tube.',
  'calculations.inputs': 'Inputs',
  'calculations.result': 'Result',
  'calculations.formula': 'Formula',
  'calculations.method': 'How it is done',
  'calculations.assumes': 'What it assumes',
  'calculations.range': 'Where it is good',
  'calculations.sources': 'Sources',
  'calculations.notes': 'Mind',
  'calculations.optional': 'may be left out',
  'calculations.default': 'left out: {value}',
  'calculations.pick': 'choose',
  'calculations.listHint': '20; 25; 40',
  'calculations.addItem': 'Add to {label}',
  'calculations.removeItem': 'Remove {label} {number}',
  'calculations.missing': 'Still needed: {missing}.',
  'calculations.unread': 'Something above cannot be read.',
  'calculations.computing': 'Computing',
  'calculations.doesNotExist': 'does not exist',
  'calculations.copy': 'Copy as JSON',
  'calculations.copyLink': 'Copy a link with these inputs',
  'calculations.copied': 'Copied',

  'calculationNote.low-safety-factor': 'The safety factor of {safetyFactor} is below the usual {usual}.',
  'calculationNote.near-stall':
    'The pressure is near the stall of the pump: the last part is slow, and a little less air does not reach it.',
  'calculationNote.wall-beyond-formula':
    'The wall is thicker than a sixth of the outer diameter: the formula is not made for it.',
  'calculationNote.transitional-flow':
    'The flow is between laminar and turbulent (Reynolds number {reynolds}): the loss may be either.',
  'calculationNote.thick-wall':
    'The wall is {wallRatio} of the diameter, above {limit}: the thin-wall formula is too kind here.',
  'calculationNote.switch-makes-before-contact':
    'The pressure switch makes before the last clamp has reached the workpiece: the control would go on too early.',
  'calculationNote.switch-above-stall': 'The set point lies at or above what the pump can reach: it never makes.',
  'calculationNote.stations-share-signals':
    'Stations share more than the spindle and the supply: they are not proven apart.',
  'calculationNote.state-the-prior':
    'The result rests on the prior (shape {priorShape}, exposure {priorExposure}): state it with the result.',
  'calculationNote.rough-line': 'The line is rougher than {limit} of its diameter: the correlation is not made for it.',
  'calculationNote.reynolds-outside-method':
    'The Reynolds number {reynolds} is outside the range of this method, {least} to {most}.',
  'calculationNote.relief-does-not-see-rod-side':
    'A relief valve at the pump does not see the rod side: it cannot limit this pressure.',
  'calculationNote.pressure-range-wide':
    'The highest pressure is more than {limit} times the precharge: the separating element may be damaged.',
  'calculationNote.precharge-near-low-pressure':
    'The precharge is {ratio} of the lowest pressure, above {limit}: the accumulator may strike its bottom.',
  'calculationNote.not-a-safety-function': 'This explores a model of the control. It is no proof of a safety function.',
  'calculationNote.no-common-factor': 'No one pressure holds every case: what {needs} needs is more than {case} bears.',
  'calculationNote.friction-needs-a-test':
    'A friction of {friction} is above {limit}: use it only after a test with this workpiece and this oil.',
  'calculationNote.fittings-lose-more-when-laminar':
    'The flow is laminar (Reynolds number {reynolds}): fittings lose more than their factors say.',
  'calculationNote.few-particles': 'A code is below {below}: too few particles were counted for a sure code.',
  'calculationNote.few-failures':
    'Only {failures} failures, where {usual} are usual: shape and life are very uncertain.',
  'calculationNote.equilibrium-is-necessary-not-sufficient':
    'Equilibrium is necessary, not sufficient: elastic workpieces lift earlier. Keep the safety factor.',
  'calculationNote.drop-above-supply': 'The line would drop more than the supply has: the load sees no voltage.',
  'calculationNote.drill-pulls-when-breaking-through':
    'A drill pulls the workpiece up when it breaks through: the force changes its sign.',
  'calculationNote.component-chart-wins': 'Where the clamp has a chart of its own, the chart wins.',
  'calculationNote.chip-thickness-outside-law':
    'The chip thickness is outside the range in which the cutting force law was measured.',
  'calculationNote.case-cannot-be-held': 'Case {case} cannot be held at any pressure.',
  'calculationNote.log-temperature':
    'Write down the oil temperature with each reading: cooling oil loses pressure too, and looks like a leak.',
  'calculationNote.below-viscosity-range': 'Below 2 mm²/s the equation is no longer good.',

  'calculationGroup.cylinders-and-clamps': 'Cylinders and clamps',
  'calculationGroup.pump-and-air': 'Pump and air',
  'calculationGroup.strength': 'Strength of tubes and hoses',
  'calculationGroup.setting-and-switch': 'Setting and switch',
  'calculationGroup.gauges': 'Gauges and tolerances',
  'calculationGroup.lines-and-oil': 'Lines and oil',
  'calculationGroup.stiffness-and-trapped-oil': 'Stiffness and trapped oil',
  'calculationGroup.accumulators': 'Accumulators',
  'calculationGroup.clamping-time': 'Clamping time',
  'calculationGroup.cutting-forces': 'Cutting forces',
  'calculationGroup.holding': 'Holding the workpiece',
  'calculationGroup.electrical': 'Control wiring',
  'calculationGroup.interlock': 'Interlock',
  'calculationGroup.counts-and-life': 'Counts and life',

  'caution.calc.judgement': 'The result is an estimate for a competent person to judge.',
  'caution.calc.rated-pressure': 'Never above the rated pressure of the weakest component.',
  'caution.calc.stored-energy': 'Release stored energy before work.',
  'caution.calc.oil-injection': 'Oil under pressure penetrates skin: look for leaks with a card, never a hand.',
  'caution.calc.component-chart-wins': 'Where the component has a chart of its own, the chart wins.',
  'caution.calc.safety-factor': 'Keep a safety factor: an equilibrium is necessary, not sufficient.',
  'caution.calc.local-electrical-code': 'The local electrical code and a licensed electrician decide.',
  'caution.calc.not-a-safety-function': 'This is no proof of a safety function.',
  'caution.calc.trapped-pressure': 'A gauge at zero does not mean no pressure: depressurise both lines.',
  'caution.calc.state-the-prior': 'State the prior with the result.',
  'caution.calc.few-events': 'With few events the interval is wide: do not read the middle alone.',
} as const;
