'use client';

import { routes } from '@repo/contracts';
import { useApiChange } from '@/lib/api/hooks';
import { useTranslate } from '@/lib/i18n/i18n';
import { useSession } from '@/lib/session/session';
import { Segments } from '@/ui/segments';
import { PRESSURE_UNITS, toUnitSymbol, type PressureUnit } from './format';
import { usePressureUnit } from './pressure-unit';

/** Switches every pressure on the page in place, and remembers it with the person. */
export function UnitSwitch() {
  const t = useTranslate();
  const { unit, setUnit } = usePressureUnit();
  const { etag } = useSession();
  const change = useApiChange(routes.users.updateMe);
  return (
    <Segments<PressureUnit>
      label={t('quantity.pressuresIn')}
      value={unit}
      choices={PRESSURE_UNITS.map((choice) => ({ value: choice, label: toUnitSymbol(choice) }))}
      onChange={(next) => {
        setUnit(next);
        change.mutate({ body: { pressureUnit: next }, etag: etag ?? undefined });
      }}
    />
  );
}
