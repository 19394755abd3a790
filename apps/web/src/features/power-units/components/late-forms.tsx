'use client';

import { late } from '@/lib/late';

/** It comes when its dialog opens. */
export const NewPowerUnitForm = late(() => import('./power-unit-form').then((file) => file.NewPowerUnitForm));

/** It comes when its dialog opens. */
export const ChangePowerUnitForm = late(() => import('./power-unit-form').then((file) => file.ChangePowerUnitForm));
