import type { CalculationDescription } from '../src/registry/registry.js';
import type { CheckFile } from './check-row.mjs';
export function renderCalculations(registry: readonly CalculationDescription[], checks: CheckFile): Promise<string>;
