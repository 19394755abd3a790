import { mapFigures, unsaidOf, type Figure, type Figures } from '@repo/calc/figures';
import { z } from 'zod';
import { quantityOf, quantityOutSchema } from './quantity.js';
import { plainNumber } from './sizes.js';

type Choices<F> = F extends { choices: readonly (infer C extends string)[] } ? z.ZodEnum<{ [V in C]: V }> : never;
type Number<F> = F extends { isWhole: true } ? z.ZodInt : z.ZodNumber;
type Plain<F, Quantity extends z.ZodType> = F extends { type: 'answer'; isAlwaysSaid: true }
  ? z.ZodBoolean
  : F extends { type: 'answer' }
    ? z.ZodNullable<z.ZodBoolean>
    : F extends { type: 'choice' }
      ? z.ZodNullable<Choices<F>>
      : F extends { type: 'number' }
        ? z.ZodNullable<Number<F>>
        : z.ZodNullable<Quantity>;
type RuleOf<F> = Plain<F, ReturnType<typeof quantityOf>>;

/** What may be said of each figure of a record. */
export type RulesOf<T> = { [N in keyof T]: RuleOf<T[N]> };
/** The same where what is left out is a no, or not said. */
type DefaultsOf<T> = { [N in keyof T]: z.ZodDefault<RuleOf<T[N]>> };
/** What comes out of each figure of a record. */
type AnswersOf<T> = { [N in keyof T]: Plain<T[N], typeof quantityOutSchema> };

function toNumber({ isWhole, least, isAboveLeast, most }: Extract<Figure, { type: 'number' }>) {
  const number = isWhole === true ? z.int() : plainNumber();
  return (isAboveLeast === true ? number.gt(least) : number.min(least)).max(most);
}

function toRule(figure: Figure): z.ZodType {
  switch (figure.type) {
    case 'quantity':
      return quantityOf(figure.kind, {
        zero: figure.isZeroAllowed === true,
        within: 'within' in figure ? figure.within : undefined,
      }).nullable();
    case 'number':
      return toNumber(figure).nullable();
    case 'choice':
      return z.enum(figure.choices).nullable();
    case 'answer':
      return figure.isAlwaysSaid === true ? z.boolean() : z.boolean().nullable();
  }
}

function toAnswer(figure: Figure): z.ZodType {
  if (figure.type === 'quantity') return quantityOutSchema.nullable();
  if (figure.type === 'number') return (figure.isWhole === true ? z.int() : z.number()).nullable();
  return toRule(figure);
}

/** Rules of a change: each figure as it may be said. */
export const rulesOf = <T extends Figures>(figures: T): RulesOf<T> => mapFigures<RulesOf<T>>(figures, toRule);

/** Rules of a new record: each figure may be left out. */
export const defaultsOf = <T extends Figures>(figures: T): DefaultsOf<T> =>
  mapFigures<DefaultsOf<T>>(figures, (figure) => toRule(figure).default(unsaidOf(figure)));

export const answersOf = <T extends Figures>(figures: T): AnswersOf<T> => mapFigures<AnswersOf<T>>(figures, toAnswer);
