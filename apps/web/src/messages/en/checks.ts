export const checkMessages = {
  'check.counted': 'Counted',
  'check.nominal': 'values alone',
  'check.stated': 'with the tolerances',
  'check.worstCase': 'with every known error',
  'check.demand': 'Demand',
  'check.capacity': 'Capacity',
  'check.margin': 'Margin',
  'check.ratio': 'demand / capacity',
  'check.probability': 'probability that it holds',
  'check.marginAsked': 'margin asked for',
  'check.missing': 'Not known: {missing}.',
  'check.missingCount': '{count} missing',
  'check.source': 'Source: {source}',

  'check.any.holds': 'It holds.',
  'check.any.marginal': '{demand} of {capacity}: inside the margin asked for.',
  'check.any.fails': '{demand} is more than {capacity}.',
  'check.any.unproven': 'Not known: {missing}. Nothing is assumed.',
  'check.any.not-applicable': 'It does not apply here.',

  'check.holds-workpiece.name': 'Holds the workpiece',
  'check.holds-workpiece.subject': 'The worst operation',
  'check.holds-workpiece.formula':
    'demand   = required + loss until the spindle stands\ncapacity = reset point − switch accuracy (− gauge error)',
  'check.holds-workpiece.holds': 'Needed: {demand}. The machine stops before the pressure falls below {capacity}.',
  'check.holds-workpiece.below-required':
    '{subject} needs {demand}; the machine may not stop before the pressure has fallen to {capacity}.',
  'check.holds-workpiece.inside-margin':
    '{subject} needs {demand}; with every error counted the machine stops at {capacity}: inside the margin asked for.',
  'check.holds-workpiece.gauge-error-decides':
    '{subject} needs {demand}; if the gauge reads falsely by as much as it may, the machine stops only at {capacity}.',

  'check.no-nuisance-stop.name': 'No nuisance stop',
  'check.no-nuisance-stop.subject': 'The pressure switch',
  'check.no-nuisance-stop.formula':
    'demand   = set point + switch accuracy (+ gauge error)\ncapacity = setting − tolerance of the setting',
  'check.no-nuisance-stop.holds':
    'The switch makes at {demand} at the latest; the setting never falls below {capacity}.',
  'check.no-nuisance-stop.set-point-above-setting':
    'The switch may make as late as {demand}; the setting may be as low as {capacity}: the machine can stop without a cause.',
  'check.no-nuisance-stop.inside-margin':
    'With every error counted the switch makes at {demand}, and the setting may be as low as {capacity}: inside the margin asked for.',
  'check.no-nuisance-stop.gauge-error-decides':
    'If the gauge reads falsely by as much as it may, the switch makes at {demand}, above a setting of {capacity}.',

  'check.setting-within-rating.name': 'Setting within the weakest rating',
  'check.setting-within-rating.subject': 'The weakest component',
  'check.setting-within-rating.formula':
    'demand   = setting + tolerance (+ gauge error)\ncapacity = min over components of rated pressure × derating',
  'check.setting-within-rating.holds': 'Set to at most {demand}; {subject} bears {capacity}.',
  'check.setting-within-rating.above-rating':
    '{subject} is rated {capacity}; the circuit is set to as much as {demand}.',
  'check.setting-within-rating.inside-margin':
    '{subject} is rated {capacity}; with every error counted the circuit reaches {demand}: inside the margin asked for.',
  'check.setting-within-rating.gauge-error-decides':
    '{subject} is rated {capacity}; if the gauge reads falsely by as much as it may, the circuit is at {demand}.',

  'check.highest-within-rating.name': 'Highest possible within the weakest rating',
  'check.highest-within-rating.subject': 'The weakest component',
  'check.highest-within-rating.formula':
    'demand   = the worst of: the source at its highest; trapped oil warmed up; rod side with the unclamp line blocked\ncapacity = min over components that see it of rated pressure × derating',
  'check.highest-within-rating.holds': 'It can rise to {demand}; {subject} bears {capacity}.',
  'check.highest-within-rating.source-above-rating':
    '{subject} is rated {capacity}; with the regulator opened fully or creeping the pressure rises to {demand}, and nothing relieves it below.',
  'check.highest-within-rating.trapped-oil-above-rating':
    '{subject} is rated {capacity}; oil that is shut in and warms up reaches {demand}.',
  'check.highest-within-rating.intensified-above-rating':
    '{subject} is rated {capacity}; with the unclamp line blocked the rod side reaches {demand}.',
  'check.highest-within-rating.relief-opens-below-setting':
    '{subject} begins to open at {capacity}, below a setting of as much as {demand}.',
  'check.highest-within-rating.inside-margin':
    '{subject} is rated {capacity}; the pressure can rise to {demand}: inside the margin asked for.',
  'check.highest-within-rating.gauge-error-decides':
    '{subject} is rated {capacity}; if the gauge reads falsely by as much as it may, the pressure can rise to {demand}.',

  'check.workpiece-limit.name': 'Within what the workpiece allows',
  'check.workpiece-limit.subject': 'The workpiece',
  'check.workpiece-limit.formula':
    'demand   = setting + tolerance + rise of trapped oil (+ gauge error)\ncapacity = min over operations of what the workpiece allows',
  'check.workpiece-limit.holds': 'Set to at most {demand}; the workpiece allows {capacity}.',
  'check.workpiece-limit.above-workpiece-limit':
    'In {subject} the workpiece allows {capacity}; the circuit is set to as much as {demand}.',
  'check.workpiece-limit.no-window':
    '{subject}: what holds the workpiece is more than the {capacity} that it bears. The circuit is set to as much as {demand}.',
  'check.workpiece-limit.inside-margin':
    'In {subject} the workpiece allows {capacity}; with every error counted the circuit reaches {demand}: inside the margin asked for.',
  'check.workpiece-limit.gauge-error-decides':
    'In {subject} the workpiece allows {capacity}; if the gauge reads falsely by as much as it may, the circuit is at {demand}.',
  'check.workpiece-limit.not-limiting':
    'A named person has stated, with a reason, that the workpiece does not limit the pressure.',

  'check.shared-supply.name': 'Shared supply leaves it clamped',
  'check.shared-supply.subject': 'Another circuit',
  'check.shared-supply.formula':
    'demand   = reset point + switch accuracy (+ gauge error)\ncapacity = the lower of: lowest pressure while another circuit clamps; pump restart − its tolerance',
  'check.shared-supply.holds':
    'The switch drops out at {demand} at the latest; neither another circuit nor the pump lets the pressure fall below {capacity}.',
  'check.shared-supply.other-station-pulls-down':
    'While {subject} clamps, the pressure here falls to {capacity}; the switch may drop out at {demand} already: the machine stops without a cause.',
  'check.shared-supply.restart-below-reset':
    'The pump may start again only at {capacity}; the switch may drop out at {demand} already.',
  'check.shared-supply.inside-margin':
    'With every error counted the switch drops out at {demand}, and the pressure may fall to {capacity}: inside the margin asked for.',
  'check.shared-supply.gauge-error-decides':
    'If the gauge reads falsely by as much as it may, the switch drops out at {demand}, and the pressure may fall to {capacity}.',

  'check.holds-without-supply.name': 'Holds without supply',
  'check.holds-without-supply.subject': 'The circuit',
  'check.holds-without-supply.formula':
    'demand   = required\ncapacity = setting − tolerance − leak in that time − cooling × pressure per kelvin (− gauge error)',
  'check.holds-without-supply.holds':
    'Needed: {demand}. After the longest time without supply {capacity} are left, and they are proved again.',
  'check.holds-without-supply.falls-below-required':
    'Without supply the pressure falls to {capacity}; {demand} are needed.',
  'check.holds-without-supply.not-proved-again':
    'Nothing proves the pressure again before the pallet enters the machine.',
  'check.holds-without-supply.inside-margin':
    'Without supply, with every error counted, {capacity} are left of {demand} needed: inside the margin asked for.',
  'check.holds-without-supply.gauge-error-decides':
    'If the gauge reads falsely by as much as it may, {capacity} are left without supply; {demand} are needed.',
  'check.holds-without-supply.always-supplied': 'The circuit is never without its supply.',

  'missing.lowestPressurePa': 'lowest pressure while another circuit clamps',
  'missing.lowestPressurePa.of': 'lowest pressure while {name} clamps',
  'missing.restartPressurePa': 'pressure at which the pump starts again',
  'missing.restartHalfWidthPa': 'tolerance of that pressure',
  'missing.isDecoupled': 'whether the circuit is ever without its supply',
  'missing.timeWithoutS': 'longest time without supply',
  'missing.coolingK': 'cooling in that time',
  'missing.pressurePerKelvinPaPerK': 'expansion and bulk modulus of the oil',
  'missing.isProvedAgain': 'whether the pressure is proved again',
  'missing.operations': 'the operations',
  'missing.components': 'the components',
  'missing.requiredPressurePa': 'required pressure',
  'missing.requiredPressurePa.of': 'required pressure of {name}',
  'missing.workpieceLimitPa': 'what the workpiece allows',
  'missing.workpieceLimitPa.of': 'what the workpiece allows in {name}',
  'missing.leastWorkingPressurePa': 'least working pressure',
  'missing.leastWorkingPressurePa.of': 'least working pressure of {name}',
  'missing.ratedPressurePa': 'a rated pressure',
  'missing.ratedPressurePa.of': 'rated pressure of {name}',
  'missing.deratingRatio': 'a derating',
  'missing.deratingRatio.of': 'derating of {name}',
  'missing.rodSideAreaRatio': 'bore and rod of the cylinders',
  'missing.rodSideAreaRatio.of': 'bore and rod of {name}',
  'missing.settingPa': 'the setting',
  'missing.settingHalfWidthPa': 'tolerance of the setting',
  'missing.setPointPa': 'set point',
  'missing.resetPointPa': 'reset point',
  'missing.switchAccuracyPa': 'accuracy of the pressure switch',
  'missing.gaugeErrorPa': 'the gauge that it was set by',
  'missing.decayRatePaPerS': 'fall of pressure while shut in',
  'missing.reactionTimeS': 'time until the spindle stands',
  'missing.pistonRatio': 'piston ratio of the pump',
  'missing.stallEfficiencyRatio': 'stall efficiency of the pump',
  'missing.airPressureHighPa': 'highest air at the regulator',
  'missing.airPressurePa': 'air at the pump',
  'missing.highestPressurePa': 'highest pressure of the pump',
  'missing.openingPressurePa': 'opening pressure of the relief valve',
  'missing.openingPressurePa.of': 'opening pressure of {name}',
  'missing.fullFlowPressurePa': 'full-flow pressure of the relief valve',
  'missing.fullFlowPressurePa.of': 'full-flow pressure of {name}',
  'missing.temperatureRiseK': 'warm-up of trapped oil',
  'missing.netExpansionPerK': 'expansion of trapped oil',
  'missing.bulkModulusPa': 'bulk modulus of oil and walls',
  'missing.canTrap': 'whether oil can be shut in',
  'missing.unclampLineCanBlock': 'whether the unclamp line can be blocked',
  'missing.marginAsked': 'the margin asked for',

  'wayOut.noWindow':
    'No setting can be right: holding takes {required}, and no more than {allowed} is allowed. Change the operation, the clamps or the weakest component.',
  'wayOut.noRoom':
    'A window exists, but setting, switch and their errors do not fit into it. A more accurate switch or gauge, or a smaller tolerance, is needed.',
  'wayOut.setting': 'The setting alone mends it: bring it to between {settingLowest} and {settingHighest}.',
  'wayOut.reset': 'The switch alone mends it: bring the reset point to between {resetLowest} and {resetHighest}.',
  'wayOut.both':
    'No setting alone mends it: bring the reset point to between {resetLowest} and {resetHighest}, and the setting to between {settingLowest} and {settingHighest}.',
} as const;
