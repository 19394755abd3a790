import type { FormVisit } from './form-walk.js';
import { findRow, from, goTo, led, on, pick, seen, YESTERDAY } from './ways.js';

const OF_MACHINES: readonly FormVisit[] = [
  { head: 'machine-', who: 'engineer', open: from('machines', 'Change'), submit: 'Save' },
  {
    head: 'machine-copy-',
    who: 'engineer',
    open: from('machines', 'Copy'),
    fill: { Machine: 'A second like it' },
    submit: 'Make the copy',
    saved: led(/^\/machines\//),
  },
  {
    head: 'machine-new-',
    who: 'engineer',
    open: from('sites', 'Add a machine'),
    fill: { Machine: 'Of every form' },
    wrong: ['Year made', '20l4', '2014'],
    submit: 'Add a machine',
    saved: led(/^\/machines\//),
  },
  {
    head: 'control-copy-',
    who: 'engineer',
    open: async (page) => {
      const isBare = ({ name }: { name: string }): boolean => name === 'Of every form';
      await goTo(page, `/machines/${await findRow(page, 'machines?limit=200', isBare)}/control`);
      await page.getByRole('button', { name: 'Take over the control of a like machine' }).click();
    },
    choose: pick('Like machine', 'V'),
    submit: 'Make the copy',
  },
  { head: 'power-unit-', who: 'engineer', open: from('machines', 'Change Power unit 1'), submit: 'Save' },
  {
    head: 'power-unit-new-',
    who: 'engineer',
    open: from('machines', 'Add a power unit'),
    fill: { Name: 'A second unit' },
    wrong: ['Lowest plant air', 'five', '5,2'],
    submit: 'Add a power unit',
  },
  { head: 'circuit-', who: 'engineer', open: from('machines', 'Change Pallet 1'), submit: 'Save' },
  {
    head: 'circuit-copy-',
    who: 'engineer',
    open: from('machines', 'Copy Pallet 1'),
    fill: { Name: 'A copied circuit' },
    submit: 'Make the copy',
  },
  {
    head: 'circuit-new-',
    who: 'engineer',
    open: from('machines', 'Add a circuit'),
    fill: { Name: 'One more circuit' },
    wrong: ['Clamp time allowed', '2 bar', '2,5'],
    submit: 'Add a circuit',
  },
  {
    head: 'target-',
    who: 'engineer',
    open: from('machines', 'Release a new target'),
    fill: { Why: 'to see the form' },
    wrong: ['Set point', 'many', '140'],
    submit: /^Release revision/,
  },
  {
    head: 'as-left-',
    who: 'installer',
    open: from('machines', 'Enter as-left values'),
    fill: { Setting: '177', 'Report that the values come from': 'report 12', Why: 'to see the form' },
    wrong: ['Oil temperature', '-300', '38'],
    submit: /^Record revision/,
  },
  {
    head: 'as-left-correct-',
    who: 'installer',
    open: from('machines', 'Correct the last reading'),
    fill: { Why: 'read off wrongly' },
    wrong: ['Setting', '', '178'],
    submit: /^Record revision/,
  },
  {
    head: 'event-',
    who: 'installer',
    open: from('machines', 'Enter what was done'),
    fill: { What: 'looked after it' },
    submit: 'Enter what was done',
  },
  {
    head: 'fit-',
    who: 'installer',
    open: from('machines', 'Fit a component'),
    choose: pick('Component type', 'pump'),
    wrong: ['Item', '', 'H7.77'],
    submit: 'Fit a component',
  },
  {
    head: 'components-copy-',
    who: 'installer',
    open: from('machines', 'Fit what a like circuit has'),
    choose: pick('Like circuit', 'Pallet'),
    fill: { 'Circuit number in designations': '77' },
    submit: 'Make the copy',
  },
  {
    head: 'exchange-',
    who: 'installer',
    open: from('machines', /^Exchange H0\.1$/),
    fill: { Why: 'worn' },
    submit: 'Exchange it',
  },
  {
    head: 'take-out-',
    who: 'installer',
    open: from('machines', /^Take out H0\.3$/),
    fill: { Why: 'no longer needed' },
    submit: 'Take it out',
  },
  {
    head: 'fit-fixture-',
    who: 'installer',
    open: from('machines', 'Fit a fixture'),
    choose: pick('Fixture', 'F-'),
    wrong: ['Fitted at (time at the machine)', '11', YESTERDAY],
    submit: 'Fit a fixture',
  },
  { head: 'rule-', who: 'lead', open: from('machines', 'Change the rule'), submit: 'Save' },
  { head: 'rule-new-', who: 'lead', open: from('machines', /^Set a rule for/), submit: 'Save' },
  {
    head: 'control-',
    who: 'engineer',
    open: from('machines', 'Say what the control does', '/control'),
    wrong: ['Reserve asked for, as a share', '30 V', '30 %'],
    submit: 'Save',
  },
  {
    head: 'signal-',
    who: 'engineer',
    open: from('machines', 'Add a signal', '/control'),
    fill: { Signal: 'B77' },
    submit: 'Add a signal',
  },
  {
    head: 'wire-',
    who: 'engineer',
    open: async (page) => {
      await goTo(page, `/machines/${await findRow(page, 'machines')}/control`);
      const row = page.getByRole('row').filter({ hasText: 'Y1' });
      await row.locator('summary').click();
      await row.getByRole('button', { name: 'Add a wire to Y1' }).click();
    },
    fill: { 'Wire number': 'W77', 'From terminal': 'X9.1', 'Fuse or breaker [A]': '4 A' },
    submit: 'Add a wire',
  },
  {
    head: 'm-code-',
    who: 'engineer',
    open: from('machines', 'Add an M-code', '/control'),
    fill: { 'M-code': 'M77' },
    submit: 'Add an M-code',
  },
  {
    head: 'machine-end-',
    who: 'engineer',
    open: async (page) => {
      await goTo(page, `/machines/${await findRow(page, 'machines?limit=200', (_row, index) => index === 1)}`);
      await page.getByRole('button', { name: 'End of service' }).click();
    },
    choose: async (form) => {
      await form.getByLabel('Whereabouts').selectOption('decommissioned');
    },
    wrong: ['Since', '', '01022026'],
    submit: 'Record it',
  },
];

const OF_FIXTURES: readonly FormVisit[] = [
  { head: 'fixture-', who: 'engineer', open: from('fixtures', 'Change'), submit: 'Save' },
  {
    head: 'fixture-copy-',
    who: 'engineer',
    open: from('fixtures', 'Copy'),
    fill: { Fixture: 'F-777' },
    submit: 'Make the copy',
    saved: led(/^\/fixtures\//),
  },
  {
    head: 'fixture-new-',
    who: 'engineer',
    open: from('customers', 'Add a fixture'),
    fill: { Fixture: 'F-778', 'Source of the rated pressure': 'its drawing' },
    wrong: ['Rated pressure of the fixture', '220 V', '220'],
    submit: 'Add a fixture',
    saved: led(/^\/fixtures\//),
  },
  {
    head: 'operation-new-',
    who: 'engineer',
    open: from('fixtures', 'Add an operation'),
    fill: { Name: 'Chamfer' },
    submit: 'Add an operation',
  },
  { head: 'operation-', who: 'engineer', open: from('fixtures', /^Change operation/), submit: 'Change from then on' },
  {
    head: 'operation-end-',
    who: 'engineer',
    open: from('fixtures', /^End operation/),
    wrong: ['Ended at', '11', YESTERDAY],
    submit: 'End the operation',
  },
];

const OF_RECORDS: readonly FormVisit[] = [
  {
    head: 'customer-new-',
    who: 'engineer',
    open: on('/customers', 'Add a customer'),
    fill: { Customer: 'Of every form' },
    submit: 'Add a customer',
    saved: led(/^\/customers\//),
  },
  { head: 'customer-', who: 'engineer', open: from('customers', 'Change'), submit: 'Save' },
  {
    head: 'site-new-',
    who: 'engineer',
    open: from('customers', 'Add a site'),
    fill: { Site: 'Works of every form', Place: 'Somewhere' },
    wrong: ['Latitude', 'north', '41,4'],
    submit: 'Add a site',
  },
  { head: 'site-', who: 'engineer', open: from('sites', 'Change'), submit: 'Save' },
  {
    head: 'component-type-new-',
    who: 'engineer',
    open: async (page) => {
      await goTo(page, '/component-types');
      await page.getByRole('button', { name: 'Add a component type' }).click();
      await page.getByRole('dialog').getByLabel('Kind').selectOption('pump');
    },
    fill: { Name: 'Pump of every form', 'Source of all figures': 'data sheet' },
    wrong: ['Rated pressure', '-350', '350'],
    submit: 'Add a component type',
    saved: led(/^\/component-types\//),
  },
  {
    head: 'component-type-',
    who: 'engineer',
    open: from('component-types', 'Change figures'),
    fill: { Why: 'a corrected data sheet' },
    submit: /^Save as revision/,
  },
  {
    head: 'issue-',
    who: 'engineer',
    open: async (page) => goTo(page, `/issues/new?machine=${await findRow(page, 'machines')}`),
    fill: { Title: 'It drips' },
    submit: 'Open the issue',
    saved: led(/^\/issues\/[0-9a-f]/),
  },
  {
    head: 'comment-',
    who: 'engineer',
    open: async (page) => goTo(page, `/issues/${await findRow(page, 'issues?state=open')}`),
    fill: { 'Your comment': 'looked at it' },
    submit: 'Send, seen by the customer too',
    saved: seen('looked at it'),
  },
  {
    head: 'close-',
    who: 'engineer',
    open: async (page) => goTo(page, `/issues/${await findRow(page, 'issues?state=open')}`),
    fill: { 'Why it is settled': 'tightened' },
    submit: 'Close the issue',
  },
  {
    head: 'reopen-',
    who: 'engineer',
    open: async (page) => goTo(page, `/issues/${await findRow(page, 'issues?state=closed')}`),
    fill: { 'Why it is not settled': 'drips again' },
    submit: 'Open it again',
  },
];

export const RECORD_FORM_VISITS = [...OF_MACHINES, ...OF_FIXTURES, ...OF_RECORDS];
