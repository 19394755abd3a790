import { Injectable } from '@nestjs/common';
import { z } from 'zod';
import { JobTasks, type RunningJob } from '../../platform/queue/index.js';
import { ConsequencesService } from '../sizing/index.js';

const parametersSchema = z.object({ entity: z.string(), ids: z.array(z.uuid()) });

const AT_ONCE = 250;

/** Computes anew the circuits that a change bears on, where they are too many for the request that made the change. */
@Injectable()
export class StandingsRefreshTask {
  constructor(
    private readonly consequences: ConsequencesService,
    tasks: JobTasks,
  ) {
    tasks.add('standings-refresh', (job) => this.run(job));
  }

  private async run(job: RunningJob): Promise<{ circuits: number }> {
    const { entity, ids } = parametersSchema.parse(job.parameters);
    const circuitIds = await job.transaction(() => this.consequences.findAffected(entity, ids));
    // Part by part, each committed: the fleet fills up while the job runs, and a job that is taken up again begins anew.
    for (let start = 0; start < circuitIds.length; start += AT_ONCE) {
      await job.progress('standings', start, circuitIds.length);
      await job.transaction(() => this.consequences.refresh(circuitIds.slice(start, start + AT_ONCE)));
    }
    return { circuits: circuitIds.length };
  }
}
