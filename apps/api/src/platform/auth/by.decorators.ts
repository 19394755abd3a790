import { createParamDecorator, type ExecutionContext } from '@nestjs/common';
import { AppError } from '../errors/app-error.js';
import type { WithActor } from './access.guard.js';
import type { Actor } from './actor.js';

const actorOf = (context: ExecutionContext): NonNullable<WithActor['actor']> => {
  const { actor } = context.switchToHttp().getRequest<WithActor>();
  if (actor === undefined) throw new AppError('session.needed');
  return actor;
};

/** Who asks. */
export const By = createParamDecorator((_: unknown, context: ExecutionContext): Actor & { expiresAt: Date } =>
  actorOf(context),
);
