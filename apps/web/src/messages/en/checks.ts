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
  'check.missingCount': '{count, number} missing',
  'check.source': 'Source: {source}',

  'check.any.holds': 'It holds.',
  'check.any.marginal': '{demand} of {capacity}: inside the margin asked for.',
  'check.any.fails': '{demand} is more than {capacity}.',
  'check.any.unproven': 'Not known: {missing}. Nothing is assumed.',
  'check.any.not-applicable': 'It does not apply here.',

  'check.holds-workpiece.name': 'Holds the workpiece',
  'check.holds-workpiece.subject': 'The worst operation',
  'check.holds-workpiece.formula':
    'demand   = required (with return pressure × unclamp area / clamp area) + loss until the spindle has stopped\ncapacity = reset point − switch accuracy (− gauge error)',
  'check.holds-workpiece.holds':
    'Needed: {demand}. The machine is told to stop before the pressure falls below {capacity}.',
  'check.holds-workpiece.below-required':
    '{subject} needs {demand}; the machine may not stop before the pressure has fallen to {capacity}.',
  'check.holds-workpiece.burst-hose':
    'If {subject} bursts, {demand} would be needed; the machine stops at {capacity}. A check valve between hose and clamps holds them.',
  'check.holds-workpiece.switch-senses-supply':
    'The pressure switch senses the supply before a check valve. What the clamps lose behind it, it does not see.',
  'check.holds-workpiece.no-pressure-holds':
    'In {subject} no pressure holds the workpiece: {case}. More force alone does not help.',
  'check.holds-workpiece.inside-margin':
    '{subject} needs {demand}; with every error counted the machine stops at {capacity}: inside the margin asked for.',
  'check.holds-workpiece.gauge-error-decides':
    '{subject} needs {demand}; if the gauge is off by as much as it may be, the machine stops only at {capacity}.',
  'check.holds-workpiece.probability-too-low':
    'With its stated tolerances it holds ({demand} of {capacity}); with every known error it holds less often than the organisation asks.',

  'check.no-nuisance-stop.name': 'No nuisance stop',
  'check.no-nuisance-stop.subject': 'The pressure switch',
  'check.no-nuisance-stop.formula':
    'demand   = set point + switch accuracy (+ gauge error)\ncapacity = setting − tolerance of the setting',
  'check.no-nuisance-stop.holds':
    'The switch makes at {demand} at the latest; the setting never falls below {capacity}.',
  'check.no-nuisance-stop.set-point-above-setting':
    'The switch may make as late as {demand}; the setting may be as low as {capacity}: the machine can stop without a cause.',
  'check.no-nuisance-stop.set-point-above-stall':
    'The switch may make as late as {demand}; at the lowest plant air the pump stalls at {capacity}: the machine can stop without a cause.',
  'check.no-nuisance-stop.inside-margin':
    'With every error counted the switch makes at {demand}, and the setting may be as low as {capacity}: inside the margin asked for.',
  'check.no-nuisance-stop.gauge-error-decides':
    'If the gauge is off by as much as it may be, the switch makes at {demand}, above a setting of {capacity}.',
  'check.no-nuisance-stop.probability-too-low':
    'With its stated tolerances it holds ({demand} of {capacity}); with every known error it holds less often than the organisation asks.',

  'check.setting-within-rating.name': 'Setting within the weakest rating',
  'check.setting-within-rating.subject': 'The weakest component',
  'check.setting-within-rating.formula':
    'demand   = setting + tolerance (+ gauge error)\ncapacity = min over components of rated pressure × derating\nand the setting is what an air-driven pump stalls at: ratio × efficiency × air ≤ 1.05 × setting',
  'check.setting-within-rating.holds': 'Set to at most {demand}; {subject} bears {capacity}.',
  'check.setting-within-rating.above-rating':
    '{subject} is rated {capacity}; the circuit is set to as much as {demand}.',
  'check.setting-within-rating.stall-above-setting':
    'At the air that is set the pump goes on to {demand}, above what is set by more than a twentieth ({capacity}). Lower the air, or record the reducing valve.',
  'check.setting-within-rating.inside-margin':
    '{subject} is rated {capacity}; with every error counted the circuit reaches {demand}: inside the margin asked for.',
  'check.setting-within-rating.gauge-error-decides':
    '{subject} is rated {capacity}; if the gauge is off by as much as it may be, the circuit is at {demand}.',
  'check.setting-within-rating.probability-too-low':
    'With its stated tolerances it holds ({demand} of {capacity}); with every known error it holds less often than the organisation asks.',

  'check.highest-within-rating.name': 'Highest possible within the weakest rating',
  'check.highest-within-rating.subject': 'The weakest component',
  'check.highest-within-rating.formula':
    'demand   = the worst of: the source at its highest; trapped oil warmed up; rod side with the unclamp line blocked\ncapacity = min over components that see it of rated pressure × derating',
  'check.highest-within-rating.holds': 'It can rise to {demand}; {subject} bears {capacity}.',
  'check.highest-within-rating.holds.relief-opening':
    '{subject} begins to open at {capacity}, above a setting of at most {demand}.',
  'check.highest-within-rating.inside-margin.relief-opening':
    '{subject} begins to open at {capacity}; with every known error the setting may be {demand}.',
  'check.highest-within-rating.gauge-error-decides.relief-opening':
    '{subject} begins to open at {capacity}; if the gauge is off by as much as it may be, the setting is {demand}.',
  'check.highest-within-rating.source-above-rating':
    '{subject} is rated {capacity}; with the regulator opened fully or creeping the pressure rises to {demand}, and nothing relieves it below.',
  'check.highest-within-rating.return-above-rating':
    '{subject} is rated {capacity}; in the tank line, where it stands, there is as much as {demand}.',
  'check.highest-within-rating.trapped-oil-above-rating':
    '{subject} is rated {capacity}; oil that is shut in and warms up reaches {demand}.',
  'check.highest-within-rating.intensified-above-rating':
    '{subject} is rated {capacity}; with the unclamp line blocked the rod side reaches {demand}.',
  'check.highest-within-rating.relief-opens-below-setting':
    '{subject} begins to open at {capacity}, below a setting of as much as {demand}.',
  'check.highest-within-rating.inside-margin':
    '{subject} is rated {capacity}; the pressure can rise to {demand}: inside the margin asked for.',
  'check.highest-within-rating.gauge-error-decides':
    '{subject} is rated {capacity}; if the gauge is off by as much as it may be, the pressure can rise to {demand}.',
  'check.highest-within-rating.probability-too-low':
    'With its stated tolerances it holds ({demand} of {capacity}); with every known error it holds less often than the organisation asks.',

  'check.workpiece-limit.name': 'Within what the workpiece allows',
  'check.workpiece-limit.subject': 'The workpiece',
  'check.workpiece-limit.formula':
    'demand   = setting + tolerance + rise of trapped oil (+ gauge error)\ncapacity = min over operations, pads and locators of what the workpiece and they allow',
  'check.workpiece-limit.holds': 'Set to at most {demand}; the workpiece allows {capacity}.',
  'check.workpiece-limit.above-workpiece-limit':
    'In {subject} the workpiece allows {capacity}; the circuit is set to as much as {demand}.',
  'check.workpiece-limit.pad-presses-too-hard':
    'At {capacity} the pad of {subject} already presses as hard as the workpiece bears; the circuit is set to as much as {demand}.',
  'check.workpiece-limit.locator-overloaded':
    'At {capacity} a locator already bears all that it may ({subject}); the circuit is set to as much as {demand}.',
  'check.workpiece-limit.no-pressure-holds':
    'In {subject} no pressure holds the workpiece, so that none is within what it allows: {case}.',
  'check.workpiece-limit.no-window':
    'In {subject} the workpiece allows {capacity}, less than it takes to hold it; the circuit is set to as much as {demand}.',
  'check.workpiece-limit.inside-margin':
    'In {subject} the workpiece allows {capacity}; with every error counted the circuit reaches {demand}: inside the margin asked for.',
  'check.workpiece-limit.gauge-error-decides':
    'In {subject} the workpiece allows {capacity}; if the gauge is off by as much as it may be, the circuit is at {demand}.',
  'check.workpiece-limit.probability-too-low':
    'With its stated tolerances it holds ({demand} of {capacity}); with every known error it holds less often than the organisation asks.',
  'check.workpiece-limit.not-limiting':
    'A named person has stated, with a reason, that the workpiece does not limit the pressure.',

  'check.shared-supply.name': 'Shared supply leaves it clamped',
  'check.shared-supply.subject': 'Another circuit',
  'check.shared-supply.formula':
    'demand   = reset point + switch accuracy (+ gauge error)\ncapacity = the lower of: lowest pressure while another circuit clamps; pump restart − its tolerance',
  'check.shared-supply.holds':
    'The switch drops out at {demand} at the latest; neither another circuit nor the pump lets the pressure fall below {capacity}.',
  'check.shared-supply.other-station-pulls-down':
    'While {subject} clamps, the pressure here falls to {capacity}; the switch may drop out as early as {demand}: the machine stops without a cause.',
  'check.shared-supply.restart-below-reset':
    'The pump may not start again until {capacity}; the switch may drop out as early as {demand}.',
  'check.shared-supply.inside-margin':
    'With every error counted the switch drops out at {demand}, and the pressure may fall to {capacity}: inside the margin asked for.',
  'check.shared-supply.gauge-error-decides':
    'If the gauge is off by as much as it may be, the switch drops out at {demand}, and the pressure may fall to {capacity}.',
  'check.shared-supply.probability-too-low':
    'With its stated tolerances it holds ({demand} of {capacity}); with every known error it holds less often than the organisation asks.',

  'check.holds-without-supply.name': 'Holds without supply',
  'check.holds-without-supply.subject': 'The circuit',
  'check.holds-without-supply.formula':
    'demand   = required\ncapacity = setting − tolerance − leak in that time − the larger of: cooling × pressure per kelvin; warming × pressure per kelvin × (unclamp area / clamp area − 1) (− gauge error)\nleak of clamps that oil moves both ways = what the clamp line loses + what the shut unclamp line rises by as it takes that oil × unclamp area / clamp area\nrelief beyond the shut-off: capacity = its lowest opening − warming × pressure per kelvin × unclamp area / clamp area; and its lowest opening − leak − (warming + cooling) × pressure per kelvin',
  'check.holds-without-supply.holds':
    'Needed: {demand}. After the longest time without supply {capacity} is left, and it is proved again.',
  'check.holds-without-supply.falls-below-required':
    'Without supply the clamps hold with no more than {capacity} in the end; {demand} is needed.',
  'check.holds-without-supply.warms-below-required':
    'As the oil shut in on both sides warms up, the clamps hold with no more than {capacity}; {demand} is needed. The switch reads more meanwhile.',
  'check.holds-without-supply.relief-holds-clamp-line':
    '{subject} holds the clamp line, while the unclamp line goes on rising as its oil warms up: the clamps hold with no more than {capacity}; {demand} is needed.',
  'check.holds-without-supply.relief-lets-oil-out':
    '{subject} lets warm oil out. Once the pallet has cooled, no more than {capacity} is left; {demand} is needed.',
  'check.holds-without-supply.no-pressure-holds':
    'In {subject} no pressure holds the workpiece, with supply or without: {case}.',
  'check.holds-without-supply.not-proved-again':
    'Nothing proves the pressure again before the pallet enters the machine.',
  'check.holds-without-supply.switch-senses-supply':
    'The pressure switch senses the supply before a check valve. What the clamps lose behind it, it does not see.',
  'check.holds-without-supply.inside-margin':
    'Without supply, with every error counted, {capacity} is left of the {demand} needed: inside the margin asked for.',
  'check.holds-without-supply.gauge-error-decides':
    'If the gauge is off by as much as it may be, {capacity} is left without supply; {demand} is needed.',
  'check.holds-without-supply.probability-too-low':
    'With its stated tolerances it holds ({demand} of {capacity}); with every known error it holds less often than the organisation asks.',
  'check.holds-without-supply.always-supplied': 'The circuit is never without its supply.',

  'check.clamping-time.name': 'Clamps in time',
  'check.clamping-time.subject': 'The circuit',
  'check.clamping-time.formula':
    'demand   = time until the switch makes, with cold oil and low air\ncapacity = clamp time allowed; and the switch may not make before the last clamp touches',
  'check.clamping-time.holds':
    'The switch makes after {demand} at the latest, when every clamp has touched; {capacity} is allowed.',
  'check.clamping-time.clamps-too-slowly': 'The switch makes only after {demand}; {capacity} is allowed.',
  'check.clamping-time.clamps-too-slowly.never':
    'With cold oil and low air the pressure never reaches the set point: the switch does not make.',
  'check.clamping-time.switch-before-contact.never':
    'A clamp never reaches its contact; the switch makes all the same.',
  'check.clamping-time.switch-before-contact':
    'The switch makes after {capacity}, the last clamp touches only after {demand}: the machine may cut a workpiece that is not held.',
  'check.clamping-time.switch-while-moving':
    'While clamps still move, with cold oil and the most that the pump gives, the switch may sense {demand}; it makes at {capacity} already: the machine may cut a workpiece that is not held.',
  'check.clamping-time.switch-without-movement':
    'The unclamp line can be blocked: then the pressure comes and the switch makes, and no clamp has moved.',
  'check.clamping-time.switch-senses-supply':
    'The pressure switch senses the supply before a check valve. What the clamps lose behind it, it does not see.',
  'check.clamping-time.inside-margin':
    'The switch may make as late as {demand} of {capacity} allowed: inside the margin asked for.',

  'check.unclamping.name': 'Unclamps reliably and in time',
  'check.unclamping.subject': 'The circuit',
  'check.unclamping.formula':
    'demand   = time until all are open, with the coldest oil\ncapacity = unclamp time allowed; open proved where a loader trusts it; spring force ≥ friction + return pressure × area that clamps',
  'check.unclamping.holds': 'Open after {demand} with the coldest oil; {capacity} is allowed.',
  'check.unclamping.unclamps-too-slowly': 'Open only after {demand} with the coldest oil; {capacity} is allowed.',
  'check.unclamping.unclamps-too-slowly.never': 'With the coldest oil it never opens fully.',
  'check.unclamping.open-not-proved':
    'A loader relies on its being open, and nothing proves that. No pressure does not mean open.',
  'check.unclamping.check-valve-stays-shut':
    '{subject} lets no oil back from the clamps: nothing in an unclamp line opens it, and their springs cannot.',
  'check.unclamping.pilot-too-weak':
    '{subject} opens against the oil that it shuts in from {demand} at its pilot; {capacity} is the least that is there.',
  'check.unclamping.pilot-below-areas':
    'The pilot ratio of {subject} is below the ratio of areas of what it holds: its pilot presses that further shut than it opens.',
  'check.unclamping.spring-too-weak':
    'The spring of {subject} gives {capacity}; friction and the return line hold against it with {demand}.',
  'check.unclamping.inside-margin': '{subject}: {demand} of {capacity}, inside the margin asked for.',

  'check.control-wiring.name': 'Control wiring',
  'check.control-wiring.subject': 'The wiring',
  'check.control-wiring.formula':
    'supply ≥ load with reserve · voltage at the coil within its tolerance · continuous duty where held on · suppression, peak within the output’s rating · polarity · separate commons · protection ≤ what the wire bears · insulation ≥ highest voltage in its cable',
  'check.control-wiring.holds': 'Every coil, wire and output is within its rating.',
  'check.control-wiring.supply-too-small': 'The 24 V supply gives {capacity}; {demand} is needed, reserve included.',
  'check.control-wiring.inrush-too-large': 'At its peak the load is {demand}; the supply bears {capacity}.',
  'check.control-wiring.voltage-at-coil': 'At {subject} the voltage is off by {demand}; it may be off by {capacity}.',
  'check.control-wiring.duty-not-continuous': '{subject} is held on, but is not rated for continuous duty.',
  'check.control-wiring.no-suppression': '{subject} has no suppression.',
  'check.control-wiring.output-overvoltage':
    'When {subject} is switched off the output sees {demand}; it bears {capacity}.',
  'check.control-wiring.polarity': 'The polarity at {subject} is wrong.',
  'check.control-wiring.commons-not-separate': 'Inputs and outputs share a common.',
  'check.control-wiring.protection-too-large': '{subject} is protected by {demand}; it bears {capacity}.',
  'check.control-wiring.insulation-too-low':
    'The insulation of {subject} is rated {capacity}; its cable carries {demand}.',

  'check.interlock-sound.name': 'Interlock sound',
  'check.interlock-sound.subject': 'The interlock',
  'check.interlock-sound.formula':
    'every state that outputs, valve, switch, spindle, power and air can reach is explored, and every rule asked in each',
  'check.interlock-sound.holds': 'Every rule holds in every state that can be reached.',
  'check.interlock-sound.rule-broken':
    'A rule of the interlock can be broken. The control page shows the shortest way to it.',
  'check.interlock-sound.fault-not-covered':
    'A single fault breaks a rule that the control could keep. The list below says which.',
  'check.interlock-sound.switch-senses-supply':
    'The pressure switch senses the supply before a check valve. What the clamps lose behind it, it does not see.',
  'check.interlock-sound.signals-shared': 'Another circuit uses one of its signals or codes: one can act on the other.',

  'check.order-and-speed.name': 'Order and speed',
  'check.order-and-speed.subject': 'A support or clamp',
  'check.order-and-speed.formula':
    'supports lock before clamps load them, and carry the load from reset − accuracy − what leaks while switch and control react up to setting + tolerance + warming of shut-in oil · no swing clamp above its flow, nor is setting + tolerance + warming above the pressure for its arm (− gauge error)',
  'check.order-and-speed.holds': 'Supports lock first and carry the load; no clamp is too fast.',
  'check.order-and-speed.nothing-to-order': 'There is neither a support nor a swing clamp.',
  'check.order-and-speed.support-locks-late':
    '{subject} is sure to be locked only at {demand}; the clamps load it from {capacity}.',
  'check.order-and-speed.support-overloaded':
    'The load on {subject} is {demand}; at this pressure it carries {capacity}.',
  'check.order-and-speed.flow-too-high': '{subject} takes {demand}; its highest flow is {capacity}.',
  'check.order-and-speed.flow-too-high-unclamping':
    '{subject} lets out {demand} as it opens; its highest flow is {capacity}.',
  'check.order-and-speed.pressure-above-arm-chart':
    '{subject} sees as much as {demand}; with this arm it may see {capacity}.',
  'check.order-and-speed.gauge-error-decides':
    'If the gauge is off by as much as it may be, {subject} sees {demand}; {capacity} is what it may.',
  'check.order-and-speed.inside-margin': '{subject}: {demand} of {capacity}, inside the margin asked for.',

  'check.reservoir.name': 'Reservoir',
  'check.reservoir.subject': 'The reservoir',
  'check.reservoir.formula':
    'demand   = strokes and compression of every circuit of the power unit; what comes back of them\ncapacity = usable volume; free volume above the level when all is clamped',
  'check.reservoir.holds': 'All circuits together take {demand}; {capacity} can be used, and what returns has room.',
  'check.reservoir.reservoir-too-small': 'All circuits together take {demand}; {capacity} can be used.',
  'check.reservoir.reservoir-overflows': '{demand} comes back; there is room for {capacity}.',
  'check.reservoir.inside-margin': '{demand} of {capacity}: inside the margin asked for.',

  'check.pairs': 'What does not hold',
  'check.pairsToMind': 'It holds; to be borne in mind',
  'check.faultsCoverable': 'A single fault breaks this, and the control could cover it',
  'check.faultsUncovered': 'A single fault breaks this; nothing short of a second channel covers it',
  'check.part.within': 'within',
  'check.part.inside-margin': 'inside the margin asked for',
  'check.part.gauge-error-decides': 'decided by the gauge’s error',
  'check.part.missing': 'not known',
  'check.part.below-required': 'too low when the machine stops',
  'check.part.probability-too-low': 'holds less often than asked',
  'check.part.no-pressure-holds': 'no pressure holds it',
  'check.part.burst-hose': 'lets the clamps go if it bursts, without a check valve between it and them',
  'check.part.clamps-too-slowly': 'too slow',
  'check.part.switch-before-contact': 'the switch makes before contact',
  'check.part.switch-while-moving': 'the switch makes while clamps move',
  'check.part.switch-without-movement': 'the switch makes although nothing has moved',
  'check.part.switch-senses-supply': 'the switch senses the supply alone',
  'check.part.unclamps-too-slowly': 'too slow',
  'check.part.open-not-proved': 'not proved open',
  'check.part.spring-too-weak': 'spring too weak',
  'check.part.return-above-rating': 'rated below the pressure of the tank line',
  'check.part.check-valve-stays-shut': 'check valve stays shut',
  'check.part.pilot-too-weak': 'pilot too weak to open it',
  'check.part.pilot-below-areas': 'pilot ratio below the ratio of areas',
  'check.part.supply-too-small': '24 V supply too small',
  'check.part.inrush-too-large': 'inrush too large',
  'check.part.voltage-at-coil': 'voltage at the coil',
  'check.part.duty-not-continuous': 'not rated for continuous duty',
  'check.part.no-suppression': 'no suppression',
  'check.part.output-overvoltage': 'overvoltage at the output',
  'check.part.polarity': 'polarity',
  'check.part.commons-not-separate': 'commons not separate',
  'check.part.protection-too-large': 'protection too large',
  'check.part.insulation-too-low': 'insulation too low',
  'check.part.support-locks-late': 'locks late',
  'check.part.support-overloaded': 'overloaded',
  'check.part.flow-too-high': 'flow too high',
  'check.part.flow-too-high-unclamping': 'flow too high as it opens',
  'check.part.pressure-above-arm-chart': 'pressure above the chart of its arm',
  'check.part.other-station-pulls-down': 'pulls it down as it clamps',
  'check.part.restart-below-reset': 'the pump starts again too late',
  'check.part.reservoir-too-small': 'too small',
  'check.part.reservoir-overflows': 'overflows',
  'check.andMore': '{named} and {count, number} more',

  'wayOut.searching': 'Looking for what puts it right …',
  'wayOut.notFound': 'What puts it right could not be worked out now.',
  'wayOut.noWindow':
    'No setting can be right: holding takes {required}, and no more than {allowed} is allowed. Change the operation, the clamps or the weakest component.',
  'wayOut.none':
    'No setting and no part was found with which every check holds. In the way: {checks}. Change the operation, the clamps or the layout.',
  'wayOut.unheld':
    'No pressure holds {operation} ({case}). Give it a larger clamp, another support or locator, or a lighter cut, and compute it again.',
  'wayOut.withAir': 'The air pressure goes with it, to {air}: the pump goes on until it stalls.',
  'wayOut.alsoReaches': 'It reaches {circuits} too: look at it afterwards.',
  'wayOut.notFewest': 'No shorter way was found; that there is none is not proved.',
  'wayOut.records': 'Still to be found out and recorded: {missing}.',
  'wayOut.readAgain':
    'Whatever is fitted or exchanged for it is measured again: it is reckoned with what was read before, which counts no more from then on.',
  'wayOut.all': 'All of these together put it right:',
  'wayOut.mends': 'Together these mend what is known to fail:',
  'wayOut.between': 'between {lowest} and {highest}',
  'wayOut.exactly': '{lowest}',
  'wayOut.atLeast': 'at least {lowest}',
  'wayOut.atMost': 'at most {highest}',
  'wayOut.wholeCircuit': 'the circuit',
  'wayOut.change.move-switch': 'Let {subject} sense the clamp line, between what shuts the clamps off and the clamps.',
  'wayOut.reaction': '“{name}” is to read “{answer}”',
  'wayOut.change.reaction': 'Change the control: {reaction}.',
  'wayOut.change.own-signal': 'Give {subject} a wire and a contact of its own, such as {name}.',
  'wayOut.change.own-code': 'Give this station a code of its own in the place of {subject}, such as {name}.',
  'wayOut.change.code-waits': 'Let the code {subject} wait for its answer.',
  'wayOut.change.prove-again': 'Prove the pressure again before the pallet enters the machine.',
  'wayOut.change.prove-open': 'Prove that it is open by something other than "no pressure".',
  'wayOut.change.keep-unclamp-open': 'See to it that the unclamp line cannot be blocked.',
  'wayOut.change.rating': '{subject}: fit one rated {range}.',
  'wayOut.change.relief':
    '{subject}: let it open at {range}, with its full flow as far above that as now, and shutting again as far below.',
  'wayOut.change.fit-relief':
    'Fit a relief valve in the supply line, and one between what shuts the clamps off and the clamps, that open at {range}, pass the whole flow at no more than {apart} above that and shut again at no more than {apart} below.',
  'wayOut.change.sequence-valve': '{subject}: let it open at {range}.',
  'wayOut.change.fit-sequence-valve': 'Fit a sequence valve before the clamps that opens at {range}.',
  'wayOut.change.arm-pressure': '{subject}: fit an arm that may have {range}.',
  'wayOut.change.highest-flow': '{subject}: fit one that may take {range}.',
  'wayOut.change.support-load': '{subject}: fit one that carries {range}.',
  'wayOut.change.spring-force': '{subject}: fit a spring of {range}.',
  'wayOut.change.return-pressure': 'Bring the return pressure to {range}.',
  'wayOut.change.burst-flow': '{subject}: fit a hose burst valve (flow fuse) that lets out {range}.',
  'wayOut.change.pad-radius': '{subject}: fit pads with a radius of {range}.',
  'wayOut.change.line-bore': '{subject}: lay one with a bore of {range}.',
  'wayOut.change.flow-to-cylinders': '{subject}: open it so that it lets {range} to the cylinders.',
  'wayOut.change.flow-from-cylinders': '{subject}: open it so that it lets {range} back from the cylinders.',
  'wayOut.change.throttle-return': '{subject}: close it so that it lets {range} back from the cylinders.',
  'wayOut.change.usable-volume': '{subject}: fit one with a usable volume of {range}.',
  'wayOut.change.free-volume': '{subject}: leave a free volume of {range}.',
  'wayOut.change.pump-ratio': '{subject}: fit one with a ratio of {range}.',
  'wayOut.change.plant-air-low': 'See to it that plant air, at its lowest, is {range}.',
  'wayOut.change.plant-air-high': 'Limit plant air, at its highest, to {range}.',
  'wayOut.change.switch-accuracy': '{subject}: fit one that is accurate to {range}.',
  'wayOut.change.gauge-class': 'Set it by a gauge of accuracy class {range}.',
  'wayOut.change.control-reaction': 'Let the control react within {range}.',
  'wayOut.change.supply-power': 'Fit a 24 V supply of {range}.',
  'wayOut.change.supply-peak': 'Fit a 24 V supply that bears {range} for a moment.',
  'wayOut.change.separate-commons': 'Put inputs and outputs on separate commons.',
  'wayOut.change.control-voltage': 'Set the 24 V supply to {range}.',
  'wayOut.change.cross-section': 'Wire {subject}: lay one of {range}.',
  'wayOut.change.coil-voltage': '{subject}: fit a coil for {range}.',
  'wayOut.change.coil-tolerance': '{subject}: fit a coil with a voltage tolerance, as a share, of {range}.',
  'wayOut.change.coil-duty': '{subject}: fit a coil for continuous duty.',
  'wayOut.change.suppression-voltage': '{subject}: fit a suppression that holds the voltage to {range}.',
  'wayOut.change.fit-suppression': '{subject}: fit a suppression that holds the voltage to {range}.',
  'wayOut.change.output-rating': 'Fit outputs, or relays between, that bear {range}.',
  'wayOut.change.polarity': '{subject}: turn its polarity round.',
  'wayOut.change.protection': 'Wire {subject}: protect it with {range}.',
  'wayOut.change.insulation': 'Wire {subject}: lay one insulated for {range}.',
  'wayOut.change.clamp-time': 'Allow {range} for clamping.',
  'wayOut.change.unclamp-time': 'Allow {range} for unclamping.',
  'wayOut.change.time-without': 'Leave it without supply for {range}.',
  'wayOut.change.setting-tolerance': 'Hold the setting with a tolerance of {range}.',
  'wayOut.change.restart-tolerance': 'Hold the restart of the pump with a tolerance of {range}.',
  'wayOut.change.air-pressure': 'Bring the air pressure to {range}.',
  'wayOut.change.setting': 'Bring the setting to {range}.',
  'wayOut.change.pump-restart': 'Bring the restart of the pump to {range}.',
  'wayOut.change.switch': 'Bring the reset point to {range}, and the set point {apart} above it.',
  'wayOut.change.set-point': 'Bring the set point to {range}.',
  'wayOut.change.leak': 'Stop the leak: read again, over the same time, the pressure may fall by {range}.',
  'wayOut.change.shared-lowest':
    'Read again how low the pressure falls while another station clamps: it must be {range}. What helps: a check valve at the own port, the other station held back by a flow control valve, a larger supply.',
} as const;
