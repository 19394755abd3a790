import type { Circuit, ControlBehaviour, InputOf, InstalledComponent, Machine, routes } from '@repo/contracts';
import { invalidField } from '../../platform/errors/app-error.js';

type Stations = InputOf<(typeof routes.signals)['copyControl']>['body']['stations'];
type Pair = [likeId: string, id: string];

/** Each station of either machine stands for one of the other at most. */
export function assertStations(like: Machine, machine: Machine, { stations }: { stations: Stations }): void {
  const [likeIds, ids] = [like, machine].map((one) => new Set(one.stations.map(({ id }) => id)));
  for (const [index, { stationId, likeStationId }] of stations.entries()) {
    if (likeIds?.delete(likeStationId) !== true) {
      throw invalidField(`stations.${index}.likeStationId`, likeStationId, 'a station of the original, once');
    }
    if (ids?.delete(stationId) !== true) {
      throw invalidField(`stations.${index}.stationId`, stationId, 'a station of the machine, once');
    }
  }
}

/** Circuits of two like stations: those of one name, and the others in the order of their names. */
export function pairCircuits(likes: readonly Circuit[], circuits: readonly Circuit[]): Pair[] {
  const free = [...circuits];
  const take = (index: number): string | undefined => (index < 0 ? undefined : free.splice(index, 1)[0]?.id);
  const byName = likes.map((like) => take(free.findIndex(({ name }) => name === like.name)));
  return likes.flatMap((like, index): Pair[] => {
    const id = byName[index] ?? take(0);
    return id === undefined ? [] : [[like.id, id]];
  });
}

/** The last number of a designation: that of H1.4 is 4. */
const toNumber = (designation: string): string => /\d+$/.exec(designation)?.[0] ?? designation;

/** Components of one kind in like circuits, or at the power units: by the number that they bear, or the only ones there. */
export function pairComponents(
  likes: readonly InstalledComponent[],
  components: readonly InstalledComponent[],
  circuitIds: ReadonlyMap<string, string>,
): Map<string, string> {
  const pairs = likes.flatMap((like): Pair[] => {
    const place = like.circuitId === null ? null : circuitIds.get(like.circuitId);
    const alike = components.filter(({ circuitId, kind }) => circuitId === place && kind === like.kind);
    const found =
      alike.find(({ designation }) => toNumber(designation) === toNumber(like.designation)) ??
      (alike.length === 1 ? alike[0] : undefined);
    return found === undefined ? [] : [[like.id, found.id]];
  });
  return new Map(pairs);
}

/** What nobody has said of one control, as the other does it. */
export const fillIn = (said: ControlBehaviour, like: ControlBehaviour): ControlBehaviour => ({
  ...like,
  ...Object.fromEntries(Object.entries(said).filter(([, value]) => value !== null)),
});
