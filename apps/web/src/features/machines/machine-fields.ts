import type { Machine } from '@repo/contracts';
import { area, choice, day, list, number, quantity, text } from '@/lib/forms';
import type { Translate } from '@/lib/i18n/i18n';

/** What is said of a machine, without its stations, its site and its end. */
export const getMachineFields = (t: Translate) => ({
  name: text({ label: 'machine.name', hint: 'machine.form.nameHint', isRequired: true, maxLength: 120 }),
  form: choice({
    label: 'machine.form',
    choices: [
      { value: 'pallets', label: t('machine.form.pallets') },
      { value: 'single-station', label: t('machine.form.singleStation') },
    ],
  }),
  wayIn: choice({
    label: 'machine.form.wayIn',
    choices: (['rotary-union', 'through-table-supply', 'direct'] as const).map((value) => ({
      value,
      label: t(`machine.wayIn.${value}`),
    })),
  }),
  controlReaction: quantity({
    label: 'machine.form.controlReaction',
    hint: 'machine.form.controlReactionHint',
    kind: 'time',
    unit: 's',
  }),
  description: text({ label: 'machine.form.description' }),
  model: text({ label: 'machine.model' }),
  serial: text({ label: 'machine.serial' }),
  madeYear: number({ label: 'machine.form.madeYear', isInteger: true, least: 1950, most: 2100 }),
  axes: text({ label: 'machine.form.axes', hint: 'machine.form.axesHint' }),
  supplyVoltageV: number({ label: 'machine.form.supplyVoltage', least: 0, most: 1000 }),
  spareInputs: number({ label: 'machine.form.spareInputs', isInteger: true, least: 0, most: 1000 }),
  spareOutputs: number({ label: 'machine.form.spareOutputs', isInteger: true, least: 0, most: 1000 }),
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

export const MORE_GROUPS = [
  {
    title: 'machine.form.control',
    isFolded: true,
    fields: ['axes', 'supplyVoltageV', 'spareInputs', 'spareOutputs', 'emergencyStopBehaviour'],
  },
  {
    title: 'machine.form.handover',
    isFolded: true,
    fields: ['inServiceOn', 'warrantyUntil', 'quoteReference', 'trainedPersons', 'kitList', 'asShipped', 'asReceived'],
  },
] as const;

export const DISPOSITIONS: readonly Machine['disposition'][] = ['in-service', 'decommissioned', 'sold', 'moved-away'];
