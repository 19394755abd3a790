import { uuidv7 } from 'uuidv7';

/** A new id, made where the record is made: repeating the same create cannot make a second one. */
export const createId = (): string => uuidv7();

/**
 * The id of a record that comes with another one and stands for a third: asked for again it is the same. It begins with the instant of the
 * one that it comes with; what is random in both is laid over each other.
 */
export function idBeside(id: string, likeId: string): string {
  const random = (text: string): bigint => BigInt(`0x${text.replaceAll('-', '').slice(13)}`);
  const mixed = (random(id) ^ random(likeId)).toString(16).padStart(19, '0').slice(-19);
  const variant = ((parseInt(mixed.slice(3, 4), 16) & 0x3) | 0x8).toString(16);
  return `${id.slice(0, 14)}7${mixed.slice(0, 3)}-${variant}${mixed.slice(4, 7)}-${mixed.slice(7)}`;
}
