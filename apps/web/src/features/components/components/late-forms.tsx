'use client';

import { late } from '@/lib/late';

/** It comes when its dialog opens. */
export const CopyComponentsForm = late(() => import('./copy-components-form').then((file) => file.CopyComponentsForm));

/** It comes when its dialog opens. */
export const FitComponentForm = late(() => import('./fit-component-form').then((file) => file.FitComponentForm));
