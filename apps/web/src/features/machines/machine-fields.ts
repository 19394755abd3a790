import { MACHINE_CONTROL, MACHINE_MAKE } from '@repo/calc/figures';
import type { Machine } from '@repo/contracts';
import { area, blankFigures, choice, day, figureFields, groupFigures, list, text } from '@/lib/forms';
import type { Translate } from '@/lib/i18n/i18n';

/** What feeds the control is said with its behaviour. */
const FIGURES = { ...MACHINE_MAKE, ...MACHINE_CONTROL };
export const BLANK_FIGURES = blankFigures(FIGURES);

/** What is said of a machine, without its stations, its site and its end. */
export const getMachineFields = (t: Translate, pressureUnit: string) => ({
  name: text({ label: 'machine.name', hint: 'machine.form.nameHint', isRequired: true, maxLength: 120 }),
  form: choice({
    label: 'machine.form',
    choices: [
      { value: 'pallets', label: t('machine.form.pallets') },
      { value: 'single-station', label: t('machine.form.single-station') },
    ],
  }),
  wayIn: choice({
    label: 'machine.form.wayIn',
    choices: (['rotary-union', 'through-table-supply', 'direct'] as const).map((value) => ({
      value,
      label: t(`machine.wayIn.${value}`),
    })),
  }),
  description: text({ label: 'machine.form.description' }),
  model: text({ label: 'machine.model' }),
  serial: text({ label: 'machine.serial' }),
  axes: text({ label: 'machine.form.axes', hint: 'machine.form.axesHint' }),
  ...figureFields('machine.form', FIGURES, { t, pressureUnit, unsaid: t('value.notKnown') }),
  inServiceOn: day({ label: 'machine.form.inServiceOn' }),
  warrantyUntil: day({ label: 'machine.form.warrantyUntil' }),
  quoteReference: text({ label: 'machine.form.quoteReference' }),
  emergencyStopBehaviour: area({ label: 'machine.form.emergencyStop', hint: 'machine.form.emergencyStopHint' }),
  trainedPersons: area({ label: 'machine.form.trainedPersons' }),
  kitList: area({ label: 'machine.form.kitList' }),
  asShipped: area({ label: 'machine.form.asShipped' }),
  asReceived: area({ label: 'machine.form.asReceived' }),
});

export const stationsField = () =>
  list({
    label: 'machine.form.stations',
    hint: 'machine.form.stationsHint',
    itemLabel: 'machine.form.station',
    addText: 'machine.form.addStation',
    least: 1,
    most: 40,
    parts: { name: text({ label: 'machine.form.stationName', isRequired: true, maxLength: 120 }) },
    blank: { name: '' },
  });

const NAMED = ['name', 'model', 'serial'] as const;
const CONTROL = {
  title: 'machine.form.control',
  isFolded: true,
  before: ['axes'],
  after: ['emergencyStopBehaviour'],
} as const;
const HANDOVER = {
  title: 'machine.form.handover',
  isFolded: true,
  fields: ['inServiceOn', 'warrantyUntil', 'quoteReference', 'trainedPersons', 'kitList', 'asShipped', 'asReceived'],
} as const;

export const NEW_MACHINE_GROUPS = [
  ...groupFigures(FIGURES, {
    name: { before: NAMED, after: ['description'] },
    form: { before: ['form', 'wayIn'], after: ['stations'] },
    control: CONTROL,
  }),
  HANDOVER,
];
export const MACHINE_GROUPS = [
  ...groupFigures(FIGURES, {
    name: { before: NAMED, after: ['description', 'siteId'] },
    form: { before: ['form', 'wayIn'] },
    control: CONTROL,
  }),
  HANDOVER,
];

export const DISPOSITIONS: readonly Machine['disposition'][] = ['in-service', 'decommissioned', 'sold', 'moved-away'];
