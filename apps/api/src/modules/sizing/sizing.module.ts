import { Module } from '@nestjs/common';
import { ConsequencesService, MOST_AT_ONCE } from './consequences.service.js';
import { DependenciesRepository } from './dependencies.repository.js';
import { FactsRepository } from './facts.repository.js';
import { LaddersService } from './ladders.service.js';
import { ProofsService } from './proofs.service.js';
import { Rounds } from './rounds.js';
import { SizingController } from './sizing.controller.js';
import { SizingRecordsRepository } from './sizing-records.repository.js';
import { SizingRecordsService } from './sizing-records.service.js';
import { StandingsKeeper } from './standings-keeper.js';
import { StandingsKeeperRepository } from './standings-keeper.repository.js';
import { StandingsRepository } from './standings.repository.js';
import { StandingsService } from './standings.service.js';

@Module({
  controllers: [SizingController],
  providers: [
    ConsequencesService,
    { provide: MOST_AT_ONCE, useValue: 200 },
    DependenciesRepository,
    FactsRepository,
    LaddersService,
    ProofsService,
    Rounds,
    SizingRecordsRepository,
    SizingRecordsService,
    StandingsKeeper,
    StandingsKeeperRepository,
    StandingsRepository,
    StandingsService,
  ],
  exports: [ConsequencesService, LaddersService, Rounds, StandingsService],
})
export class SizingModule {}
