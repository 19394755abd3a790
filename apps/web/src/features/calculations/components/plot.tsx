'use client';

import { convert, getKindInfo, toUnitSymbol } from '@repo/quantity';
import { useEffect, useId, useRef, useState } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPlainText } from '@/lib/quantity/format';
import { toWords } from '../forms';
import type { PlotAxis, PlotData, PlotMark, PlotPoint } from '../plots/plot-data';
import { toScale, type PlotScale } from '../plots/plot-scale';
import styles from './plot.module.css';

const HEIGHT = 320;
/** Above spans there is a line for the names of the marks. */
const NAMES = 20;
const EDGE = { left: 58, right: 18, top: 26, bottom: 46 };
/** A row of a plot of spans. */
const ROW = 34;
const LETTER = 7;

function toUnitOf(axis: PlotAxis, unit: string | null): (value: number) => number {
  return (value) =>
    axis.unit === null || unit === null || axis.unit === unit ? value : convert(value, axis.unit, unit);
}

/** The same plot in other units of its axes. */
function toShown(plot: PlotData, xUnit: string | null, yUnit: string | null): PlotData {
  const [x, y] = [toUnitOf(plot.x, xUnit), toUnitOf(plot.y, yUnit)];
  return {
    ...plot,
    x: { ...plot.x, unit: xUnit },
    y: { ...plot.y, unit: yUnit },
    series: plot.series.map((series) => ({
      ...series,
      points: series.points.map(([a, b]): PlotPoint => [x(a), y(b)]),
    })),
    marks: plot.marks.map((mark) => ({ ...mark, value: mark.axis === 'x' ? x(mark.value) : y(mark.value) })),
    spans: plot.spans.map((span) => ({ ...span, from: x(span.from), to: x(span.to) })),
  };
}

function AxisUnit({ axis, unit, onChange }: { axis: PlotAxis; unit: string | null; onChange: (unit: string) => void }) {
  const t = useTranslate();
  if (axis.kind === null || unit === null) return null;
  return (
    <label className={styles['unit']}>
      <span>{t('quantity.unitOf', { label: toWords(axis.name) })}</span>
      <select value={unit} onChange={(event) => onChange(event.target.value)}>
        {[...new Set([unit, ...getKindInfo(axis.kind).displayUnits.map((one) => one.unit)])].map((one) => (
          <option key={one} value={one}>
            {toUnitSymbol(one)}
          </option>
        ))}
      </select>
    </label>
  );
}

const toTick = (value: number): string => toPlainText(value, 3);

interface Frame {
  width: number;
  height: number;
  x: PlotScale;
  y: PlotScale;
  toX: (value: number) => number;
  toY: (value: number) => number;
}

function toFrame(plot: PlotData, width: number): Frame {
  const height = plot.spans.length > 0 ? EDGE.top + NAMES + EDGE.bottom + ROW * plot.spans.length : HEIGHT;
  const points = plot.series.flatMap((series) => series.points);
  const onAxis = (axis: 'x' | 'y'): number[] =>
    plot.marks.filter((mark) => mark.axis === axis).map((mark) => mark.value);
  const inner = { width: width - EDGE.left - EDGE.right, height: height - EDGE.top - EDGE.bottom };
  const spanned = plot.spans.flatMap(({ from, to }) => [from, to]);
  const x = toScale([...points.map(([a]) => a), ...spanned, ...onAxis('x')], inner.width / 90, plot.x.isLog);
  const hasBars = plot.series.some(({ look }) => look === 'bars');
  const y = toScale(
    [...points.map(([, b]) => b), ...onAxis('y'), ...(hasBars ? [0] : [])],
    inner.height / 50,
    plot.y.isLog,
  );
  return {
    width,
    height,
    x,
    y,
    toX: (value) => EDGE.left + inner.width * x.toShare(value),
    toY: (value) => height - EDGE.bottom - inner.height * y.toShare(value),
  };
}

function Axes({ plot, frame }: { plot: PlotData; frame: Frame }) {
  const { width, height, x, y, toX, toY } = frame;
  const name = (axis: PlotAxis): string =>
    `${toWords(axis.name)}${axis.unit === null ? '' : ` [${toUnitSymbol(axis.unit)}]`}`;
  const floor = height - EDGE.bottom;
  return (
    <g className={styles['axes']}>
      {x.ticks.map((tick) => (
        <g key={tick}>
          <line x1={toX(tick)} x2={toX(tick)} y1={EDGE.top} y2={floor} />
          <text x={toX(tick)} y={floor + 16} textAnchor="middle">
            {toTick(tick)}
          </text>
        </g>
      ))}
      <text className={styles['name']} x={width - EDGE.right} y={height - 8} textAnchor="end">
        {name(plot.x)}
      </text>
      {plot.spans.length > 0 ? null : (
        <>
          {y.ticks.map((tick) => (
            <g key={tick}>
              <line x1={EDGE.left} x2={width - EDGE.right} y1={toY(tick)} y2={toY(tick)} />
              <text x={EDGE.left - 8} y={toY(tick) + 4} textAnchor="end">
                {toTick(tick)}
              </text>
            </g>
          ))}
          <text className={styles['name']} x={4} y={13}>
            {name(plot.y)}
          </text>
        </>
      )}
    </g>
  );
}

function Curves({ plot, frame }: { plot: PlotData; frame: Frame }) {
  const { toX, toY } = frame;
  const seen = ([a, b]: PlotPoint): boolean => (!plot.x.isLog || a > 0) && (!plot.y.isLog || b > 0);
  return plot.series.map(({ code, look, points }) => {
    const shown = points.filter(seen);
    if (look === 'dots') {
      return shown.map(([a, b], index) => (
        <circle key={`${code}${index}`} className={styles['dot']} cx={toX(a)} cy={toY(b)} r={3.5} />
      ));
    }
    if (look === 'bars') {
      const gap =
        shown.length > 1 ? (toX(Number(shown.at(-1)?.[0])) - toX(Number(shown[0]?.[0]))) / (shown.length - 1) : 20;
      const wide = Math.max(1, gap > 4 ? gap - 1 : gap);
      return shown.map(([a, b], index) => (
        <rect
          key={`${code}${index}`}
          className={styles['bar']}
          x={toX(a) - wide / 2}
          width={wide}
          y={Math.min(toY(b), toY(0))}
          height={Math.abs(toY(0) - toY(b))}
        />
      ));
    }
    return (
      <polyline
        key={code}
        className={look === 'dashed' ? styles['dashed'] : styles['line']}
        points={shown.map(([a, b]) => `${toX(a).toFixed(1)},${toY(b).toFixed(1)}`).join(' ')}
      />
    );
  });
}

function useMarkText() {
  const t = useTranslate();
  return ({ code, number }: PlotMark): string =>
    t.find(`plotMark.${code}`, number === undefined ? {} : { number }) ?? toWords(code);
}

/** Marks of the x axis stand over one another where their words would meet. */
function Marks({ plot, frame }: { plot: PlotData; frame: Frame }) {
  const toText = useMarkText();
  const { width, height, toX, toY } = frame;
  const ends: number[] = [];
  const onX = plot.marks.filter((mark) => mark.axis === 'x').sort((a, b) => a.value - b.value);
  return (
    <g className={styles['marks']}>
      {plot.marks
        .filter((mark) => mark.axis === 'y')
        .map((mark) => (
          <g key={mark.code}>
            <line x1={EDGE.left} x2={width - EDGE.right} y1={toY(mark.value)} y2={toY(mark.value)} />
            <text x={width - EDGE.right - 4} y={toY(mark.value) - 5} textAnchor="end">
              {toText(mark)}
            </text>
          </g>
        ))}
      {onX.map((mark) => {
        const text = toText(mark);
        const x = toX(mark.value);
        const isLeft = x + 6 + text.length * LETTER > width - 4;
        const from = isLeft ? x - 6 - text.length * LETTER : x;
        const to = isLeft ? x : x + 6 + text.length * LETTER;
        const free = ends.findIndex((end) => end < from);
        const row = free < 0 ? ends.length : free;
        ends[row] = to;
        return (
          <g key={`${mark.code}${mark.number ?? ''}`}>
            <line x1={x} x2={x} y1={EDGE.top} y2={height - EDGE.bottom} />
            <text x={isLeft ? x - 5 : x + 5} y={EDGE.top + 12 + row * 15} textAnchor={isLeft ? 'end' : 'start'}>
              {text}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Spans({ plot, frame }: { plot: PlotData; frame: Frame }) {
  const t = useTranslate();
  const { toX } = frame;
  return plot.spans.map(({ code, from, to }, row) => {
    const y = EDGE.top + NAMES + row * ROW + 10;
    const wide = Math.max(2, toX(to) - toX(from));
    const text = t.find(`plotSpan.${code}`) ?? toWords(code);
    const long = text.length * LETTER + 8;
    // Beside the span where there is room, else above it.
    const place =
      toX(to) + long < frame.width
        ? { x: toX(to) + 6, y: y + 12, textAnchor: 'start' as const }
        : toX(from) > long
          ? { x: toX(from) - 6, y: y + 12, textAnchor: 'end' as const }
          : { x: frame.width - 4, y: y - 2, textAnchor: 'end' as const };
    return (
      <g key={code}>
        <rect className={row === 0 ? styles['field'] : styles['bar']} x={toX(from)} width={wide} y={y} height={14} />
        <text className={styles['name']} {...place}>
          {text}
        </text>
      </g>
    );
  });
}

/** The figures behind the picture: read by keyboard, by a screen reader, and copied. */
function Figures({ plot }: { plot: PlotData }) {
  const t = useTranslate();
  const toText = useMarkText();
  const head = (axis: PlotAxis): string =>
    `${toWords(axis.name)}${axis.unit === null ? '' : ` [${toUnitSymbol(axis.unit)}]`}`;
  const seriesName = (code: string): string => t.find(`plotSeries.${code}`) ?? head(plot.y);
  return (
    <details className={styles['figures']}>
      <summary>{t('plot.figures')}</summary>
      <div className={styles['scroll']} role="group" aria-label={t('plot.figures')} tabIndex={0}>
        {[...plot.marks].length === 0 ? null : (
          <table>
            <caption>{t('plot.marks')}</caption>
            <tbody>
              {plot.marks.map((mark) => (
                <tr key={`${mark.code}${mark.number ?? ''}`}>
                  <th scope="row">{toText(mark)}</th>
                  <td>
                    {toPlainText(mark.value, 5)} {toUnitSymbol((mark.axis === 'x' ? plot.x.unit : plot.y.unit) ?? '')}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {plot.spans.length === 0 ? null : (
          <table>
            <caption>{head(plot.x)}</caption>
            <tbody>
              {plot.spans.map(({ code, from, to }) => (
                <tr key={code}>
                  <th scope="row">{t.find(`plotSpan.${code}`) ?? toWords(code)}</th>
                  <td>{toPlainText(from, 5)}</td>
                  <td>{toPlainText(to, 5)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
        {plot.series.map(({ code, points }) => (
          <table key={code}>
            <caption>{seriesName(code)}</caption>
            <thead>
              <tr>
                <th scope="col">{head(plot.x)}</th>
                <th scope="col">{head(plot.y)}</th>
              </tr>
            </thead>
            <tbody>
              {points.map(([a, b], index) => (
                <tr key={index}>
                  <td>{toPlainText(a, 5)}</td>
                  <td>{toPlainText(b, 5)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        ))}
      </div>
    </details>
  );
}

/** A plot in greys: axes with units that can be switched, marks in words, and its figures as a table. */
export function Plot({ plot }: { plot: PlotData }) {
  const t = useTranslate();
  const id = useId();
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(620);
  const [xUnit, setXUnit] = useState(plot.x.unit);
  const [yUnit, setYUnit] = useState(plot.y.unit);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const observer = new ResizeObserver(([entry]) => {
      const room = Math.floor(entry?.contentRect.width ?? 0);
      if (room > 0) setWidth(Math.max(260, room));
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  const shown = toShown(plot, plot.x.kind === null ? plot.x.unit : xUnit, plot.y.kind === null ? plot.y.unit : yUnit);
  const frame = toFrame(shown, width);
  const legend = shown.series.filter(({ code }) => t.find(`plotSeries.${code}`) !== null && shown.series.length > 1);
  return (
    <figure className={styles['plot']} aria-labelledby={id}>
      <figcaption id={id}>{t.find(`plot.${plot.code}`) ?? toWords(plot.code)}</figcaption>
      <div className={`${styles['units']} not-printed`}>
        <AxisUnit axis={plot.x} unit={xUnit} onChange={setXUnit} />
        <AxisUnit axis={plot.y} unit={yUnit} onChange={setYUnit} />
      </div>
      <div ref={box}>
        <svg
          role="img"
          aria-label={t('plot.picture', { title: t.find(`plot.${plot.code}`) ?? toWords(plot.code) })}
          viewBox={`0 0 ${frame.width} ${frame.height}`}
        >
          <Axes plot={shown} frame={frame} />
          <Curves plot={shown} frame={frame} />
          <Spans plot={shown} frame={frame} />
          <Marks plot={shown} frame={frame} />
        </svg>
      </div>
      {legend.length === 0 ? null : (
        <ul className={styles['legend']}>
          {legend.map(({ code, look }) => (
            <li key={code}>
              <span className={styles[`key-${look}`]} aria-hidden="true" />
              {t.find(`plotSeries.${code}`)}
            </li>
          ))}
        </ul>
      )}
      <Figures plot={shown} />
    </figure>
  );
}
