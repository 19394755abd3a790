/** Whose turn is counted: an organisation, and a person in it. */
export interface Share {
  readonly organisation: string;
  readonly person: string;
}

/** How many may wait: of one person, of one organisation, and in all. */
export interface LineBounds {
  readonly person: number;
  readonly organisation: number;
  readonly all: number;
}

/** Those served so long ago that it no longer matters are forgotten. */
const MOST_REMEMBERED = 1000;

/** Who is to be served next: whoever was served longest ago. It is known of those who do not wait just now, too. */
class Turns {
  private readonly servedAt = new Map<string, number>();
  private last = 0;

  next(waiting: Iterable<string>): string | undefined {
    let chosen: string | undefined;
    for (const key of waiting) {
      if (chosen === undefined || (this.servedAt.get(key) ?? 0) < (this.servedAt.get(chosen) ?? 0)) chosen = key;
    }
    return chosen;
  }

  served(key: string): void {
    this.last += 1;
    this.servedAt.delete(key);
    this.servedAt.set(key, this.last);
    const [longestAgo] = this.servedAt.keys();
    if (this.servedAt.size > MOST_REMEMBERED && longestAgo !== undefined) this.servedAt.delete(longestAgo);
  }
}

/**
 * A line in which organisations take turns, and in each of them its persons: whoever asks for three hundred things keeps
 * another waiting for none but the one that has begun. Within a person's own it is first come, first served.
 */
export class FairLine<T> {
  /** organisation → person → what waits */
  private readonly waiting = new Map<string, Map<string, T[]>>();
  private readonly organisations = new Turns();
  private readonly persons = new Turns();
  private count = 0;

  constructor(private readonly bounds: LineBounds) {}

  get length(): number {
    return this.count;
  }

  /** False when the line has no room for this one. */
  join({ organisation, person }: Share, item: T): boolean {
    const persons = this.waiting.get(organisation) ?? new Map<string, T[]>();
    const waiting = persons.get(person) ?? [];
    const inOrganisation = [...persons.values()].reduce((sum, items) => sum + items.length, 0);
    const { bounds } = this;
    if (waiting.length >= bounds.person || inOrganisation >= bounds.organisation || this.count >= bounds.all)
      return false;
    waiting.push(item);
    persons.set(person, waiting);
    this.waiting.set(organisation, persons);
    this.count += 1;
    return true;
  }

  /** The next in turn, of those that may be served now. */
  take(mayServe: (share: Share) => boolean = () => true): T | undefined {
    const servable = (organisation: string): string[] =>
      [...(this.waiting.get(organisation)?.keys() ?? [])].filter((person) => mayServe({ organisation, person }));
    const organisation = this.organisations.next([...this.waiting.keys()].filter((key) => servable(key).length > 0));
    if (organisation === undefined) return undefined;
    const persons = this.waiting.get(organisation) as Map<string, T[]>;
    const person = this.persons.next(servable(organisation)) as string;
    const [item] = persons.get(person) as [T];
    this.organisations.served(organisation);
    this.persons.served(person);
    this.leave({ organisation, person }, item);
    return item;
  }

  /** Takes one out that no longer wants to wait. */
  leave({ organisation, person }: Share, item: T): void {
    const persons = this.waiting.get(organisation);
    const items = persons?.get(person);
    const at = items?.indexOf(item) ?? -1;
    if (persons === undefined || items === undefined || at < 0) return;
    items.splice(at, 1);
    this.count -= 1;
    if (items.length === 0) persons.delete(person);
    if (persons.size === 0) this.waiting.delete(organisation);
  }
}
