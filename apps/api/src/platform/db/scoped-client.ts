import { AsyncLocalStorage } from 'node:async_hooks';
import pg from 'pg';

type Query = (...given: unknown[]) => Promise<unknown>;

const NOTHING = { command: 'BEGIN', rowCount: 0, fields: [], rows: [] };
const openings = new AsyncLocalStorage<Opening>();

const textOf = (query: unknown): unknown =>
  typeof query === 'object' && query !== null && 'text' in query ? query.text : query;

/** Whom a transaction speaks for, from its first message to its last. */
export class Opening {
  private client: ScopedClient | null = null;

  /** @param settings what holds for this transaction alone, by name */
  constructor(private readonly settings: Readonly<Record<string, string>>) {}

  /** Runs what begins a transaction: it begins in this name. */
  run<T>(work: () => Promise<T>): Promise<T> {
    return openings.run(this, work);
  }

  /** Rows of a statement of this transaction. @throws once it is over: its connection is somebody else's then */
  async rows<T>(text: string, values: readonly unknown[]): Promise<T[]> {
    if (this.client === null) throw new Error('this transaction is not open');
    const { rows } = await this.client.query({ text, values: [...values] });
    return rows as T[];
  }

  /** Begins on a connection; the statements that do it. */
  beginOn(client: ScopedClient): string {
    this.client = client;
    const settings = Object.entries(this.settings).map(
      ([name, value]) => `set_config('${name}', ${client.escapeLiteral(value)}, true)`,
    );
    return `BEGIN; SELECT ${settings.join(', ')}`;
  }

  end(): void {
    this.client = null;
  }
}

/**
 * A connection whose transactions begin in somebody's name or not at all. Beginning and name are one message, which the first statement
 * follows without waiting for its answer: if it fails, so does all that comes after it.
 */
export class ScopedClient extends pg.Client {
  private opening: Opening | null = null;
  /** why the transaction did not begin; null: it did */
  private ahead: Promise<Error | null> | null = null;

  constructor(config?: string | pg.ClientConfig) {
    super(config);
    const send = this.query.bind(this) as Query;
    this.query = ((...given: unknown[]) => this.follow(send, given)) as typeof this.query;
  }

  private follow(send: Query, given: unknown[]): Promise<unknown> {
    const text = textOf(given[0]);
    if (text === 'BEGIN') return this.begin(send);
    if (text === 'COMMIT' || text === 'ROLLBACK') this.opening?.end();
    const { ahead } = this;
    this.ahead = null;
    return ahead === null ? send(...given) : this.sendBehind(ahead, send(...given));
  }

  private begin(send: Query): Promise<typeof NOTHING> {
    const opening = openings.getStore();
    if (opening === undefined) return Promise.reject(new Error('a transaction begins in the name of somebody'));
    this.opening = opening;
    this.ahead = send(opening.beginOn(this)).then(
      () => null,
      (error: unknown) => (error instanceof Error ? error : new Error(String(error))),
    );
    return Promise.resolve(NOTHING);
  }

  private async sendBehind(ahead: Promise<Error | null>, sent: Promise<unknown>): Promise<unknown> {
    const [refusal, answer] = await Promise.allSettled([ahead, sent]);
    if (refusal.status === 'fulfilled' && refusal.value !== null) throw refusal.value;
    if (answer.status === 'rejected') throw answer.reason;
    return answer.value;
  }
}
