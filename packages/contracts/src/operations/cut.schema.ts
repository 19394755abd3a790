import type { RequiredOfCutResult } from '@repo/calc';
import { z } from 'zod';
import { quantityOf, quantityOutSchema } from '../common/quantity.js';
import { directionSchema, plainNumber } from '../common/sizes.js';
import { CUT_FIGURES, type CutFigure, type QuantityEntry } from './cut-figures.js';

type Named<Type extends string> = {
  [Name in CutFigure]: (typeof CUT_FIGURES)[Name]['type'] extends Type ? Name : never;
}[CutFigure];

const coordinate = quantityOf('length', { zero: true, negative: true });
const pointSchema = z.strictObject({ x: coordinate, y: coordinate, z: coordinate });
const maybe = (name: Named<'quantity'>) => {
  const { kind, zero, negative }: QuantityEntry = CUT_FIGURES[name];
  return quantityOf(kind, { zero: zero === true, negative: negative === true })
    .nullable()
    .default(null);
};
const plain = (name: Named<'number'>) => {
  const { least, most } = CUT_FIGURES[name];
  return plainNumber().min(least).max(most).nullable().default(null);
};
const count = (name: Named<'number'>) => {
  const { least, most } = CUT_FIGURES[name];
  return z.int().min(least).max(most).nullable().default(null);
};

export const cutMethodSchema = z.enum(CUT_FIGURES.method.choices);

/** A cut as it is described. Which figures count depends on the method; one that is not given stays unknown. */
export const cutSchema = z
  .strictObject({
    method: cutMethodSchema,
    /** id of a material group; its kc1.1 and mc go below, so that another table's can be taken */
    materialGroup: z.string().max(CUT_FIGURES.materialGroup.most).nullable().default(null),
    kc11: maybe('kc11'),
    mc: plain('mc'),
    /** tapping: specific cutting force */
    kc: maybe('kc'),
    diameter: maybe('diameter'),
    teeth: count('teeth'),
    /** milling: per tooth; drilling: per turn */
    feed: maybe('feed'),
    axialDepth: maybe('axialDepth'),
    radialWidth: maybe('radialWidth'),
    engagement: z.enum(CUT_FIGURES.engagement.choices).nullable().default(null),
    /** cutting edge angle; for a helix 90° less the helix */
    leadAngle: maybe('leadAngle'),
    pitch: maybe('pitch'),
    pointAngle: maybe('pointAngle'),
    /** product of wear and other corrections */
    wear: plain('wear'),
    /** radial over tangential force */
    radialRatio: plain('radialRatio'),
    /** along the tool's axis, towards the workpiece positive */
    axialForce: maybe('axialForce'),
    /** directions of feed that are tried at each point, where more are wanted than the 24 that always are */
    directions: count('directions'),
    thrustFactor: plain('thrustFactor'),
    /** share of the thrust that pulls when breaking through */
    breakthroughRatio: plain('breakthroughRatio'),
    /** points of the path, or holes */
    points: z.array(pointSchema).max(CUT_FIGURES.points.most).default([]),
    /** from the spindle into the workpiece */
    toolAxis: directionSchema.nullable().default(null),
    workpieceMass: maybe('workpieceMass'),
    centreOfMass: pointSchema.nullable().default(null),
    gravity: directionSchema.nullable().default(null),
    /** further directions of the weight, of a pallet that tilts or turns while the workpiece is clamped */
    otherGravities: z.array(directionSchema).max(CUT_FIGURES.otherGravities.most).default([]),
    /** the pallet as it tilts or turns with the workpiece clamped, its most each; asked for where it does; zero and zero: nothing of it is felt */
    indexingSpeed: maybe('indexingSpeed'),
    indexingAcceleration: maybe('indexingAcceleration'),
    /** from an axis about which it does to the centre of mass, at most */
    indexingRadius: maybe('indexingRadius'),
    /** from the centre of mass to the furthest point of the workpiece */
    workpieceRadius: maybe('workpieceRadius'),
    /** by how much of itself each may be off; null: what is usual */
    specificForceSpread: plain('specificForceSpread'),
    frictionSpread: plain('frictionSpread'),
    safetyFactor: plain('safetyFactor'),
    /** edges of the friction cones */
    coneFacets: count('coneFacets'),
  })
  .meta({ id: 'Cut' });
export type Cut = z.infer<typeof cutSchema>;
export type CutIn = z.input<typeof cutSchema>;

const pieceShape = { elementId: z.string(), name: z.string(), piece: z.int() };
export const requiredOfCutSchema = z
  .object({
    status: z.enum(['held', 'not-held', 'missing', 'refused']),
    requiredPressurePa: z.number().nullable(),
    missing: z.array(
      z.object({
        field: z.string(),
        ref: z.object({ entity: z.string(), id: z.string(), name: z.string() }).nullable(),
      }),
    ),
    refused: z.object({ fields: z.array(z.string()), needs: z.string() }).nullable(),
    forces: z
      .object({
        tangentialN: z.number().nullable(),
        thrustN: z.number().nullable(),
        torqueNm: z.number().nullable(),
      })
      .nullable(),
    cases: z.int(),
    governingCase: z.string().nullable(),
    governingClamp: z.object(pieceShape).nullable(),
    contacts: z.array(
      z.object({
        ...pieceShape,
        kind: z.enum(['locator', 'clamp']),
        normalN: z.number(),
        frictionN: z.number(),
        atLimit: z.enum(['none', 'lifting', 'sliding', 'normal-limit']),
      }),
    ),
    /** what each support bears at a pressure, and what each further pascal adds; left out by what was computed before it was */
    supportLoads: z
      .array(
        z.object({
          elementId: z.string(),
          loadN: z.number().nullable(),
          atPressurePa: z.number(),
          loadPerPaN: z.number().nullable(),
        }),
      )
      .optional(),
    /** the locator that bears its largest force first as the pressure goes up; null: none has a limit; left out by what was computed before it was */
    locatorLimit: z
      .object({
        ...pieceShape,
        limitN: z.number(),
        loadN: z.number().nullable(),
        highestPressurePa: z.number().nullable(),
      })
      .nullable()
      .optional(),
    /** how much more it may be, by specific cutting force and by friction, null where no pressure holds then; left out by what was computed before it was */
    spread: z
      .object({
        specificForceRatio: z.number(),
        frictionRatio: z.number(),
        specificForcePa: z.number().nullable(),
        frictionPa: z.number().nullable(),
      })
      .nullable()
      .optional(),
    bestChange: z.object({ ...pieceShape, kind: z.string(), gainPa: z.number() }).nullable(),
    notes: z.array(
      z.object({ code: z.string(), parameters: z.record(z.string(), z.union([z.number(), z.string()])).optional() }),
    ),
    calculationVersion: z.string(),
  })
  .meta({ id: 'RequiredOfCut' });
export type RequiredOfCut = z.infer<typeof requiredOfCutSchema>;

/** The compiler's proof that what the calculation gives is what the contract says. */
export const fromRequiredOfCut = (result: RequiredOfCutResult, calculationVersion: string): RequiredOfCut => ({
  ...result,
  missing: [...result.missing],
  refused: result.refused && { ...result.refused, fields: [...result.refused.fields] },
  contacts: [...result.contacts],
  supportLoads: [...result.supportLoads],
  notes: result.notes.map(({ code, parameters }) => ({ code, ...(parameters === undefined ? {} : { parameters }) })),
  calculationVersion,
});

/** What was typed before the pressure was computed: it comes back when somebody goes back to typing. */
export const typedRequiredSchema = z.object({
  requiredPressure: quantityOutSchema.nullable(),
  requiredSource: z.string(),
});
