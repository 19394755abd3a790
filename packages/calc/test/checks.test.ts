import { CHECK_CODES, CHECKS, listReasons, MARGIN_CODES, USUAL_MARGINS } from '../src/circuit-checks/checks.js';
import { proveFacts } from '../src/circuit-facts/prove-facts.js';
import { aCircuit, aRandomCircuit } from './facts-builder.js';

test('checks are numbered from one on, and told in that order', () => {
  expect(CHECK_CODES.map((code) => CHECKS[code].number)).toEqual(CHECK_CODES.map((_, index) => index + 1));
  expect(proveFacts(aCircuit()).checks.map(({ code }) => code)).toEqual(CHECK_CODES);
});

test('a margin is asked of all but those that hold or do not', () => {
  expect(CHECK_CODES.filter((code) => !(MARGIN_CODES as readonly string[]).includes(code))).toEqual([
    'control-wiring',
    'interlock-sound',
  ]);
  for (const code of MARGIN_CODES) expect(USUAL_MARGINS[code]).toBeGreaterThanOrEqual(0);
});

test('a check gives no reason but those that it is known to give', () => {
  for (let seed = 0; seed < 150; seed += 1) {
    for (const { code, reason } of proveFacts(aRandomCircuit(seed)).checks) {
      expect(['within', 'missing', ...listReasons(code)]).toContain(reason);
    }
  }
});
