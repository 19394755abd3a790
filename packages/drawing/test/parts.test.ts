import fc from 'fast-check';
import { miniPressureLadder, PALETTES, toElement, toWrapped, getTextWidth, toSvgString } from '../src/index.js';
import { toPressureAxis } from '../src/pressure-ladder/axis.js';
import { spreadLabels } from '../src/pressure-ladder/spread-labels.js';

describe('spreadLabels', () => {
  const wishes = fc.array(fc.double({ min: 0, max: 400, noNaN: true }), { minLength: 1, maxLength: 16 });

  it('keeps every distance and both bounds', () => {
    fc.assert(
      fc.property(wishes, (unsorted) => {
        const placed = spreadLabels(
          unsorted.sort((a, b) => a - b),
          unsorted.map(() => 24),
          10,
          410,
        );
        expect(placed).toHaveLength(unsorted.length);
        expect(placed[0]).toBeGreaterThanOrEqual(10 - 1e-9);
        expect(placed.at(-1)).toBeLessThanOrEqual(410 + 1e-9);
        placed.slice(1).forEach((y, i) => expect(y - Number(placed[i])).toBeGreaterThanOrEqual(24 - 1e-9));
      }),
    );
  });

  it('leaves labels that do not touch where they are', () => {
    expect(spreadLabels([20, 60, 300], [24, 24], 0, 400)).toEqual([20, 60, 300]);
  });

  it('moves equal wishes apart evenly about their middle', () => {
    expect(spreadLabels([100, 100, 100], [24, 24], 0, 400)).toEqual([76, 100, 124]);
  });

  it('keeps a label of several lines from the next by its own height', () => {
    expect(spreadLabels([100, 100, 100], [24, 56], 0, 400)).toEqual(
      [65.33, 89.33, 145.33].map((y) => expect.closeTo(y, 2)),
    );
  });

  it('refuses a column without room', () => {
    expect(() => spreadLabels([1, 2, 3], [24, 24], 0, 40)).toThrow(RangeError);
  });
});

describe('toPressureAxis', () => {
  it('holds every pressure, has a handful of ticks, and they stand on round numbers of the unit shown', () => {
    const unit = fc.constantFrom(1e5, 1e6, 6894.757293168);
    const pressures = fc.array(fc.double({ min: 1e5, max: 7e7, noNaN: true }), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(pressures, unit, (pressuresPa, pascalPerUnit) => {
        const axis = toPressureAxis(pressuresPa, pascalPerUnit, 9);
        expect(axis.lowPa).toBeLessThanOrEqual(Math.min(...pressuresPa));
        expect(axis.highPa).toBeGreaterThanOrEqual(Math.max(...pressuresPa));
        expect(axis.ticksPa.length).toBeGreaterThanOrEqual(3);
        expect(axis.ticksPa.length).toBeLessThanOrEqual(16);
        const step = (Number(axis.ticksPa[1]) - Number(axis.ticksPa[0])) / pascalPerUnit;
        const mantissa = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
        expect([1, 2, 2.5, 5].some((round) => Math.abs(round - mantissa) < 1e-6)).toBe(true);
      }),
    );
  });

  it('begins at nought when the lowest pressure is near it', () => {
    expect(toPressureAxis([10e5, 700e5], 1e5, 9).lowPa).toBe(0);
    expect(toPressureAxis([118e5, 250e5], 1e5, 9).lowPa).toBeGreaterThan(0);
  });
});

describe('toWrapped', () => {
  it('keeps a text to the letter, in lines no wider than the room', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 60 }), fc.integer({ min: 20, max: 300 }), (text, room) => {
        const lines = toWrapped(text, 'sans', 13, room);
        expect(lines.join('')).toBe(text);
        for (const line of lines) expect(getTextWidth(line.trimEnd(), 'sans', 13)).toBeLessThanOrEqual(room);
      }),
    );
  });

  it('parts words at their spaces, and only what is wider than the room within', () => {
    expect(toWrapped('workpiece allows, rest 2', 'sans', 13, 70)).toEqual(['workpiece ', 'allows, rest ', '2']);
    expect(toWrapped('a mmmmmm', 'sans', 13, 40)).toEqual(['a ', 'mmm', 'mmm']);
  });

  it('holds a character a line where there is no room, and one empty line of nothing', () => {
    expect(toWrapped('ab', 'sans', 13, -5)).toEqual(['a', 'b']);
    expect(toWrapped('', 'sans', 13, 50)).toEqual(['']);
  });
});

describe('toSvgString', () => {
  it('escapes what a name may hold and drops what XML forbids', () => {
    const text = toSvgString(toElement('text', { 'aria-label': '"<a>&\'' }, '</text><script>\u0007'));
    expect(text).toBe(
      '<text xmlns="http://www.w3.org/2000/svg" aria-label="&quot;&lt;a&gt;&amp;&#39;">&lt;/text&gt;&lt;script&gt;</text>',
    );
  });
});

describe('miniPressureLadder', () => {
  it('stays inside its box even when a pressure lies beyond the axis', () => {
    const svg = miniPressureLadder({
      pressures: {
        requiredPa: 0,
        resetPointPa: 1e5,
        setPointPa: 2e5,
        settingPa: 9e7,
        settingHalfWidthPa: 1e6,
        workpieceLimitPa: 9e7,
        weakestRatingPa: 9e7,
        highestPossiblePa: 9e7,
      },
      status: 'fails',
      lowPa: 4e6,
      highPa: 2.5e7,
      widthPx: 200,
      size: 'row',
      paint: 'light',
      title: 'setting 900 bar',
    });
    const dot = svg.children.find((child) => typeof child !== 'string' && child.tag === 'circle');
    expect(dot).toMatchObject({ attributes: { cx: 192.8, fill: PALETTES.light.fails } });
  });
});

describe('palettes', () => {
  /** Contrast ratio as WCAG 2.2 defines it (relative luminance of sRGB). Source: W3C WCAG 2.2, from memory. */
  const luminance = (hex: string): number => {
    const [r, g, b] = [1, 3, 5].map((at) => {
      const share = parseInt(hex.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * Number(r) + 0.7152 * Number(g) + 0.0722 * Number(b);
  };
  const contrast = (a: string, b: string): number => {
    const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (Number(high) + 0.05) / (Number(low) + 0.05);
  };

  it.each(['light', 'dark', 'print'] as const)('every text colour of %s reads on its panel at 4.5 : 1', (theme) => {
    const palette = PALETTES[theme];
    for (const text of ['ink', 'ink-2', 'ink-3', 'fails', 'marginal', 'unproven'] as const) {
      expect(contrast(palette[text], palette.panel)).toBeGreaterThanOrEqual(4.5);
    }
    for (const line of ['line', 'rule-strong'] as const) {
      expect(contrast(palette[line], palette.panel)).toBeGreaterThanOrEqual(line === 'line' ? 3 : 2);
    }
  });
});
