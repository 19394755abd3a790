'use client';

import { formatQuantity } from '@repo/quantity';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPlainText } from '@/lib/quantity/format';
import { NumberWithUnit, Pressure } from '@/lib/quantity/number';

/** The unit stands last in the name of every figure; what is shown is its everyday unit. The longest that fits counts. */
const ENDINGS: readonly { ending: string; unit: string }[] = [
  { ending: 'TemperatureK', unit: 'Cel' },
  { ending: 'KgPerM3', unit: 'kg/m3' },
  { ending: 'PaPerS', unit: 'bar/min' },
  { ending: 'M3PerS', unit: 'L/min' },
  { ending: 'M2PerS', unit: 'mm2/s' },
  { ending: 'NsPerM', unit: 'N.s/m' },
  { ending: 'NPerM', unit: 'N/mm' },
  { ending: 'PerK', unit: '1/K' },
  { ending: 'M3', unit: 'mL' },
  { ending: 'N', unit: 'N' },
  { ending: 'K', unit: 'K' },
  { ending: 'S', unit: 's' },
  { ending: 'M', unit: 'mm' },
  { ending: 'W', unit: 'W' },
  { ending: 'V', unit: 'V' },
];

/** The everyday unit of a figure, other than of a pressure; undefined: it has none. */
export const findUnitOfName = (name: string): string | undefined =>
  ENDINGS.find(({ ending }) => name.endsWith(ending))?.unit;

/** `settingHalfWidthPa` → "setting half width", unless the catalogue has a better name. */
export function useFigureName(): (name: string) => string {
  const t = useTranslate();
  return (name) => {
    const known = t.find(`figure.${name}`);
    if (known !== null) return known;
    const bare = name.replace(/(KgPerM3|PaPerS|M3PerS|M2PerS|NsPerM|NPerM|PerK|Pa|M3|Ratio|N|K|S|M|W|V)$/, '');
    return bare.replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase();
  };
}

/** A figure in SI, shown in the everyday unit that the end of its name tells. */
export function SiValue({ name, value }: { name: string; value: number }) {
  const t = useTranslate();
  if (/^(has|is|can)[A-Z]/.test(name)) return <span>{value === 0 ? t('value.no') : t('value.yes')}</span>;
  if (name.endsWith('Pa')) return <Pressure pressurePa={value} places={name.includes('air') ? 2 : 1} />;
  const unit = findUnitOfName(name);
  if (unit === undefined) return <NumberWithUnit number={toPlainText(value)} />;
  const { text, unitSymbol } = formatQuantity(value, unit, { digits: 4 });
  return <NumberWithUnit number={text} unit={unitSymbol} />;
}
