import { z } from 'zod';
import { COMPONENT_KINDS } from './component-kinds.js';

export const componentKindSchema = z.enum(COMPONENT_KINDS);
