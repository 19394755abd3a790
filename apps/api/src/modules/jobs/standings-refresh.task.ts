import { Injectable } from '@nestjs/common';
import { JobTasks, type RunningJob } from '../../platform/queue/index.js';
import { ConsequencesService } from '../sizing/index.js';

const AT_ONCE = 250;

/** Computes anew the circuits that wait for it, where a change bears on too many for the request that made it. */
@Injectable()
export class StandingsRefreshTask {
  constructor(
    private readonly consequences: ConsequencesService,
    tasks: JobTasks,
  ) {
    tasks.add('standings-refresh', (job) => this.run(job));
  }

  private async run(job: RunningJob): Promise<{ circuits: number }> {
    const total = await job.transaction(() => this.consequences.countAwaiting());
    // Part by part, each committed: the fleet fills up while the job runs, and a job that is taken up again does the rest.
    let done = 0;
    let after: string | null = null;
    do {
      await job.progress('standings', done, Math.max(done, total));
      const part: string[] = await job.transaction(() => this.refreshSome(after));
      done += part.length;
      after = part.at(-1) ?? null;
    } while (after !== null);
    return { circuits: done };
  }

  private async refreshSome(after: string | null): Promise<string[]> {
    const circuitIds = await this.consequences.listAwaiting(after, AT_ONCE);
    await this.consequences.refresh(circuitIds);
    return circuitIds;
  }
}
