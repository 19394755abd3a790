import { createId, idBeside } from './ids';

const PATTERN = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

test('an id beside another is the same each time, and another one for each that it stands for', () => {
  const [id, likeIds] = [createId(), Array.from({ length: 200 }, createId)];
  const beside = likeIds.map((likeId) => idBeside(id, likeId));
  for (const besideId of beside) expect(besideId).toMatch(PATTERN);
  expect(likeIds.map((likeId) => idBeside(id, likeId))).toEqual(beside);
  expect(new Set([id, ...likeIds, ...beside]).size).toBe(401);
  expect(idBeside(id, '00000000-0000-4000-8000-000000000000')).toMatch(PATTERN);
});
