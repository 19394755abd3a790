import { uuidv7 } from 'uuidv7';

/** A new id, made where the record is made: repeating the same create cannot make a second one. */
export const createId = (): string => uuidv7();
