import fc from 'fast-check';
import {
  getTextWidth,
  pressureLadder,
  toLayout,
  toSvgString,
  type DrawnCircuit,
  type DrawnRung,
  type PressureLadderWords,
  type PressureLadderOptions,
  type RungCode,
  type StatusShape,
  type SvgElement,
} from '../src/index.js';

const BAR = 1e5;
const words: PressureLadderWords = {
  unit: 'bar',
  pascalPerUnit: BAR,
  format: (pressurePa, halfWidthPa) => ({
    number: (pressurePa / BAR).toFixed(0),
    tolerance: halfWidthPa === null ? null : (halfWidthPa / BAR).toFixed(0),
  }),
  notKnown: 'not known',
  noWindow: 'no setting can be right',
  title: 'Pressure ladder',
  statuses: {
    holds: 'holds',
    marginal: 'marginal',
    fails: 'fails',
    unproven: 'unproven',
    drifting: 'drifting',
    'not-applicable': 'not applicable',
  },
};

const single: readonly RungCode[] = [
  'required',
  'reset-point',
  'set-point',
  'pump-restart',
  'setting',
  'highest-possible',
  'workpiece-limit',
];
const status = fc.constantFrom<StatusShape>('holds', 'marginal', 'fails', 'unproven', 'not-applicable');
const pressure = fc.option(fc.double({ min: 10 * BAR, max: 700 * BAR, noNaN: true }), { nil: null, freq: 6 });
const name = fc.oneof(
  fc.string({ maxLength: 90 }),
  fc.constant('Hydraulic swing clamp with extended arm and lock'),
  fc.constant('旋转接头'),
);

function aRung(code: RungCode, id: string): fc.Arbitrary<DrawnRung> {
  return fc.record({
    id: fc.constant(id),
    code: fc.constant(code),
    pressurePa: pressure,
    halfWidthPa: fc.option(fc.double({ min: 0, max: 20 * BAR, noNaN: true }), { nil: null }),
    label: name,
    isWeakest: code === 'rating' ? fc.boolean() : fc.constant(false),
    status: fc.option(status, { nil: null }),
  });
}

const aCircuit = fc.integer({ min: 0, max: 30 }).chain((ratings) =>
  fc.record({
    id: fc.uuid(),
    title: name,
    subtitle: fc.option(name, { nil: null }),
    status,
    rungs: fc.tuple(
      ...single.map((code) => aRung(code, code)),
      ...Array.from({ length: ratings }, (_, n) => aRung('rating', `rating-${n}`)),
    ),
    window: fc.record({ lowPa: pressure, highPa: pressure }),
  }),
);

const anyOptions: fc.Arbitrary<PressureLadderOptions> = fc.record({
  circuits: fc.array(aCircuit, { minLength: 1, maxLength: 30 }),
  words: fc.constant(words),
  widthPx: fc.integer({ min: 280, max: 1600 }),
  paint: fc.constantFrom('page', 'light', 'dark', 'print'),
  isInteractive: fc.boolean(),
  idPrefix: fc.constant('p'),
});

interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

function walk(element: SvgElement, visit: (element: SvgElement) => void): void {
  visit(element);
  for (const child of element.children) if (typeof child !== 'string' && child.tag !== 'defs') walk(child, visit);
}

function toBox(element: SvgElement): Box {
  const at = (key: string): number => Number(element.attributes[key]);
  return { left: at('x'), top: at('y'), right: at('x') + at('width'), bottom: at('y') + at('height') };
}

function listGrounds(svg: SvgElement): Box[] {
  const boxes: Box[] = [];
  walk(svg, (element) => {
    if (element.attributes['class'] === 'pl-ground') boxes.push(toBox(element));
  });
  return boxes;
}

/** What is written at each rung in letters of words, and how far it reaches to the right. */
function listShown(svg: SvgElement): Map<string, { name: string; right: number }> {
  const shown = new Map<string, { name: string; right: number }>();
  walk(svg, (group) => {
    const rung = group.attributes['data-rung'];
    if (rung === undefined) return;
    let [name, right] = ['', 0];
    walk(group, ({ tag, attributes, children: [text] }) => {
      if (tag !== 'text' || typeof text !== 'string' || 'font-family' in attributes) return;
      const face = attributes['font-weight'] === 600 ? 'sans-bold' : 'sans';
      name += text;
      right = Math.max(right, Number(attributes['x']) + getTextWidth(text.trimEnd(), face, 13));
    });
    shown.set(`${group.attributes['data-circuit']}/${rung}`, { name, right });
  });
  return shown;
}

const runs = { numRuns: 60 };

describe('pressureLadder', () => {
  it('lets no two labels touch, whatever the pressures, names and number of circuits', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        const boxes = listGrounds(pressureLadder(options));
        const labelled = toLayout(options).rows.flatMap((row) =>
          row.columns.flatMap((column) => [
            ...column.rungs.filter((rung) => rung.labelYPx !== null),
            ...column.unknown,
          ]),
        );
        expect(boxes).toHaveLength(labelled.length);
        boxes.forEach((a, i) => {
          for (const b of boxes.slice(i + 1)) {
            const apart =
              a.right <= b.left + 0.02 ||
              b.right <= a.left + 0.02 ||
              a.bottom <= b.top + 0.02 ||
              b.bottom <= a.top + 0.02;
            if (!apart) throw new Error(`labels touch: ${JSON.stringify([a, b])}`);
          }
        });
      }),
      runs,
    );
  });

  it('keeps the order of pressures in the order of labels, so that no two leaders cross', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        for (const column of toLayout(options).rows.flatMap((row) => row.columns)) {
          const labelled = column.rungs.filter((rung) => rung.labelYPx !== null);
          labelled.slice(1).forEach((below, index) => {
            const above = labelled[index];
            expect(above).toBeDefined();
            if (above === undefined) return;
            expect(above.pressurePa).toBeGreaterThanOrEqual(below.pressurePa);
            expect(above.markYPx).toBeLessThanOrEqual(below.markYPx);
            expect(Number(above.labelYPx)).toBeLessThan(Number(below.labelYPx));
          });
        }
      }),
      runs,
    );
  });

  it('draws everything inside its view box', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        const svg = pressureLadder(options);
        const width = Number(svg.attributes['width']);
        const height = Number(svg.attributes['height']);
        walk(svg, (element) => {
          if (element.tag !== 'rect' && element.tag !== 'text') return;
          const box = toBox(element);
          const right = element.tag === 'rect' ? box.right : box.left;
          const bottom = element.tag === 'rect' ? box.bottom : box.top;
          // Marks of a status carry their own place in a transform and are covered by the label they stand in.
          if (element.tag === 'rect' && box.left === 1 && box.top === 1) return;
          expect(Math.min(box.left, box.top)).toBeGreaterThanOrEqual(0);
          expect(right).toBeLessThanOrEqual(width + 0.02);
          expect(bottom).toBeLessThanOrEqual(height + 0.02);
        });
      }),
      runs,
    );
  });

  it('names every rung exactly once, with its number and unit, or says that it is not known', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        const found = new Map<string, string>();
        walk(pressureLadder({ ...options, isInteractive: true }), (element) => {
          const rung = element.attributes['data-rung'];
          if (rung === undefined) return;
          const key = `${element.attributes['data-circuit']}/${rung}`;
          expect(found.has(key)).toBe(false);
          expect(element.attributes['tabindex']).toBe(0);
          found.set(key, String(element.attributes['aria-label']));
        });
        for (const circuit of options.circuits) {
          for (const rung of circuit.rungs) {
            const spoken = found.get(`${circuit.id}/${rung.id}`);
            expect(spoken).toContain(
              rung.pressurePa === null ? 'not known' : `${words.format(rung.pressurePa, null).number}`,
            );
            if (rung.pressurePa !== null) expect(spoken).toContain(' bar');
          }
        }
      }),
      runs,
    );
  });

  it('shows every name whole, within the drawing, however narrow it is', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        const svg = pressureLadder({ ...options, isInteractive: true, labels: 'full' });
        const shown = listShown(svg);
        for (const circuit of options.circuits) {
          const all = circuit.rungs.map(({ id }) => shown.get(`${circuit.id}/${id}`));
          expect(all.map((text) => text?.name)).toEqual(
            circuit.rungs.map(({ label, pressurePa }) => (pressurePa === null ? `${label}: not known` : label)),
          );
          for (const text of all) expect(text?.right).toBeLessThanOrEqual(Number(svg.attributes['width']) + 0.02);
        }
      }),
      runs,
    );
  });

  it('tells two locators apart on a phone that differ in their last letter', () => {
    const named = ['lower rest of the bearing seat 1', 'lower rest of the bearing seat 2'];
    const rungs = named.map((label, n): DrawnRung => ({
      id: `limit-${n}`,
      code: 'workpiece-limit',
      pressurePa: (150 + n) * BAR,
      halfWidthPa: 5 * BAR,
      label: `workpiece allows, ${label}`,
      isWeakest: false,
      status: n === 0 ? 'fails' : null,
    }));
    const circuit = {
      ...aPallet(155, 160),
      title: 'Pallet 2, clamping of the bearing seats of the lower housing',
      rungs,
    };
    const options = { circuits: [circuit], words, paint: 'light', isInteractive: true, idPrefix: 'p' } as const;
    for (const widthPx of [280, 300, 360, 1200]) {
      const svg = pressureLadder({ ...options, widthPx });
      const shown = listShown(svg);
      expect(rungs.map(({ id }) => shown.get(`pallet-2/${id}`)?.name)).toEqual(rungs.map(({ label }) => label));
      expect(toSvgString(svg)).not.toContain('…');
    }
  });

  it('has nothing to focus in a picture', () => {
    fc.assert(
      fc.property(anyOptions, (options) => {
        expect(toSvgString(pressureLadder({ ...options, isInteractive: false }))).not.toContain('tabindex');
      }),
      runs,
    );
  });
});

function aPallet(setting: number, rating: number): DrawnCircuit {
  const rung = (code: RungCode, bar: number | null, half: number | null = null): DrawnRung => ({
    id: code,
    code,
    pressurePa: bar === null ? null : bar * BAR,
    halfWidthPa: half === null ? null : half * BAR,
    label: code,
    isWeakest: code === 'rating',
    status: null,
  });
  return {
    id: 'pallet-2',
    title: 'Pallet 2',
    subtitle: null,
    status: 'holds',
    rungs: [rung('required', 118), rung('setting', setting, 5), rung('rating', rating), rung('workpiece-limit', null)],
    window: { lowPa: 118 * BAR, highPa: rating * BAR },
  };
}

describe('hatching', () => {
  const draw = (circuit: DrawnCircuit, paint: 'page' | 'print' = 'page'): string =>
    toSvgString(
      pressureLadder({ circuits: [circuit], words, widthPx: 600, paint, isInteractive: false, idPrefix: 'p' }),
    );

  it('shows where the setting with its tolerance stands outside the window', () => {
    expect(draw(aPallet(178, 160))).toContain('fill="url(#p-hatch)"');
    expect(draw(aPallet(157, 160))).toContain('fill="url(#p-hatch)"');
    expect(draw(aPallet(100, 160))).toContain('fill="url(#p-hatch)"');
  });

  it('is absent while the setting with its tolerance stands inside', () => {
    expect(draw(aPallet(155, 160))).not.toContain('fill="url(#p-hatch)"');
  });

  it('says that no setting can be right when the window is turned over', () => {
    const circuit = { ...aPallet(155, 160), window: { lowPa: 118 * BAR, highPa: 100 * BAR } };
    expect(draw(circuit)).toContain('no setting can be right');
  });

  it('prints without any colour', () => {
    const colours = new Set(draw(aPallet(178, 160), 'print').match(/#[0-9a-f]{6}/g));
    expect(colours.size).toBeGreaterThan(3);
    for (const colour of colours) expect(colour).toMatch(/^#([0-9a-f]{2})\1\1$/);
  });
});
