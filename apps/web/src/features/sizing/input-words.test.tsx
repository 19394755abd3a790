import { SearchParamsContext } from 'next/dist/shared/lib/hooks-client-context.shared-runtime';
import { renderToStaticMarkup } from 'react-dom/server';
import { LocaleProvider } from '@/lib/i18n/i18n';
import { PressureUnitProvider } from '@/lib/quantity/pressure-unit';
import { speakWhole } from '../../messages';
import { en } from '../../messages/en';
import { InputTree } from './components/input-tree';

speakWhole(en);

const [CIRCUIT, STATION, SIGNAL, CODE] = [1, 2, 3, 4].map((n) => `0194eda9-c529-7881-b02d-00000000000${n}`);
const INPUT = {
  circuit: {
    id: CIRCUIT,
    name: 'Pallet 2',
    stationId: STATION,
    isCheckHeld: false,
    isDecoupled: null,
    returnPressurePa: 1e5,
  },
  components: [
    {
      id: 'c1',
      name: 'H2.1',
      kind: 'directional-valve',
      isBeyondShutOff: null,
      lineFunctions: ['supply', 'clamp'],
      figures: {},
    },
  ],
  control: {
    circuits: [
      { id: CIRCUIT, name: 'Pallet 2', stationId: STATION, valveBehaviour: 'double-detented', isCheckHeld: true },
    ],
    mCodes: [{ id: CODE, code: 'M60', action: 'clamp', stationId: STATION, waitsForAnswer: true }],
    machine: {
      behaviour: { onPressureLoss: 'stop', airReturn: 'by-hand' },
      id: 'm1',
      name: 'HMC-44',
      supplyRatingW: 120,
    },
    signals: [
      {
        id: SIGNAL,
        name: 'Y1',
        circuitId: CIRCUIT,
        mCodeId: CODE,
        actsOn: 'unclamp-coil',
        direction: 'output',
        isHeldOn: true,
      },
    ],
    wires: [{ id: 'w1', number: '133', signalId: SIGNAL, protectionA: 4, crossSectionM2: 7.5e-7 }],
  },
};

describe('the input of a sizing record', () => {
  const text = renderToStaticMarkup(
    <SearchParamsContext value={new URLSearchParams()}>
      <LocaleProvider initial="en">
        <PressureUnitProvider initial="bar">
          <InputTree value={INPUT} />
        </PressureUnitProvider>
      </LocaleProvider>
    </SearchParamsContext>,
  ).replaceAll(/<[^>]*>/g, '|');

  it.each([
    'Do check valves hold the pressure?',
    'Is it ever without its supply?',
    'Highest pressure in the tank line',
    'Lines that it is in',
    'supply line (P), clamp line',
    'directional valve',
    'two coils, stays where it was put',
    'the machine stops',
    'waits for a person',
    'Stays on after the movement',
    'unclamp coil',
    'Fuse or breaker',
    'Rating of the supply',
    'Wire number',
  ])('says “%s”, as the forms do', (word) => {
    expect(text).toContain(`|${word}|`);
  });

  it('shows what an id stands for, and no id', () => {
    expect(text).not.toMatch(/[0-9a-f]{8}-[0-9a-f]{4}/);
    expect(text).not.toMatch(/\|(id|station id|is check held|unclamp-coil|by-hand)\|/);
    expect(text).toMatch(/\|signal\|+Y1\|/);
    expect(text).toMatch(/\|station\|+Pallet 2\|/);
  });
});
