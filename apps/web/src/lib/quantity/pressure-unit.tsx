'use client';

import { createContext, useContext, useMemo, useState, type ReactNode } from 'react';
import type { PressureUnit } from './format';

interface UnitChoice {
  unit: PressureUnit;
  setUnit: (unit: PressureUnit) => void;
}

const UnitContext = createContext<UnitChoice>({ unit: 'bar', setUnit: () => undefined });
export const UNIT_COOKIE = 'kedge-unit';

/** The unit in which pressures are read. A cookie makes the first paint right; the person's own record decides. */
export function PressureUnitProvider({ initial, children }: { initial: PressureUnit; children: ReactNode }) {
  const [unit, set] = useState(initial);
  const choice = useMemo(
    () => ({
      unit,
      setUnit: (next: PressureUnit) => {
        document.cookie = `${UNIT_COOKIE}=${encodeURIComponent(next)}; Path=/; SameSite=Lax; Max-Age=31536000`;
        set(next);
      },
    }),
    [unit],
  );
  return <UnitContext value={choice}>{children}</UnitContext>;
}

export const usePressureUnit = (): UnitChoice => useContext(UnitContext);
