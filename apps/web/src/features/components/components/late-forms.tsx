'use client';

import { late } from '@/lib/late';

/** It comes when its dialog opens. */
export const FitComponentForm = late(() => import('./fit-component-form').then((file) => file.FitComponentForm));
