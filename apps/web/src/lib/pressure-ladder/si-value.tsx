'use client';

import { formatQuantity } from '@repo/quantity';
import { useTranslate } from '@/lib/i18n/i18n';
import { toPlainText } from '@/lib/quantity/format';
import { NumberWithUnit, Pressure } from '@/lib/quantity/number';

/** The unit stands last in the name of every figure; what is shown is its everyday unit. */
const ENDINGS: readonly { ending: string; unit: string }[] = [
  { ending: 'PaPerS', unit: 'bar/min' },
  { ending: 'M3PerS', unit: 'L/min' },
  { ending: 'PerK', unit: '1/K' },
  { ending: 'N', unit: 'N' },
  { ending: 'K', unit: 'K' },
  { ending: 'S', unit: 's' },
  { ending: 'M3', unit: 'mL' },
  { ending: 'M', unit: 'mm' },
];

/** `settingHalfWidthPa` → "setting half width", unless the catalogue has a better name. */
export function useFigureName(): (name: string) => string {
  const t = useTranslate();
  return (name) => {
    const known = t.find(`figure.${name}`);
    if (known !== null) return known;
    const bare = name.replace(/(PaPerS|M3PerS|PerK|Pa|M3|Ratio|N|K|S|M)$/, '');
    return bare.replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase();
  };
}

/** A figure in SI, shown in the everyday unit that the end of its name tells. */
export function SiValue({ name, value }: { name: string; value: number }) {
  const t = useTranslate();
  if (/^(has|is|can)[A-Z]/.test(name)) return <span>{value === 0 ? t('value.no') : t('value.yes')}</span>;
  if (name.endsWith('Pa')) return <Pressure pressurePa={value} places={name.includes('air') ? 2 : 1} />;
  const quantityEnding = ENDINGS.find(({ ending }) => name.endsWith(ending));
  if (quantityEnding === undefined) return <NumberWithUnit number={toPlainText(value)} />;
  const { text, unitSymbol } = formatQuantity(value, quantityEnding.unit, { digits: 4 });
  return <NumberWithUnit number={text} unit={unitSymbol} />;
}
