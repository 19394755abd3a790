import { Injectable } from '@nestjs/common';
import { z } from 'zod';
import { JobTasks, type RunningJob } from '../../platform/queue/index.js';
import { ConsequencesService } from '../sizing/index.js';

const parametersSchema = z.object({ entity: z.string(), ids: z.array(z.uuid()) });

/** Computes anew the circuits that a change bears on, where they are too many for the request that made the change. */
@Injectable()
export class StandingsRefreshTask {
  constructor(
    private readonly consequences: ConsequencesService,
    tasks: JobTasks,
  ) {
    tasks.add('standings-refresh', (job) => this.run(job));
  }

  private async run(job: RunningJob): Promise<void> {
    const { entity, ids } = parametersSchema.parse(job.parameters);
    await job.finish(async () => {
      const circuitIds = await this.consequences.findAffected(entity, ids);
      await job.progress('standings', 0, circuitIds.length);
      await this.consequences.refresh(circuitIds, (done) => job.progress('standings', done, circuitIds.length));
      return { circuits: circuitIds.length };
    });
  }
}
