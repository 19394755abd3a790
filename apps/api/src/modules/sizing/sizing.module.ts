import { Module } from '@nestjs/common';
import { ConsequencesService, MOST_AT_ONCE } from './consequences.service.js';
import { ControlFactsRepository } from './control-facts.repository.js';
import { LadderFactsRepository } from './ladder-facts.repository.js';
import { LaddersService } from './ladders.service.js';
import { ProofsService } from './proofs.service.js';
import { SizingController } from './sizing.controller.js';
import { SizingRecordsRepository } from './sizing-records.repository.js';
import { SizingRecordsService } from './sizing-records.service.js';
import { StandingsRepository } from './standings.repository.js';
import { StandingsService } from './standings.service.js';

@Module({
  controllers: [SizingController],
  providers: [
    ConsequencesService,
    { provide: MOST_AT_ONCE, useValue: 200 },
    ControlFactsRepository,
    LadderFactsRepository,
    LaddersService,
    ProofsService,
    SizingRecordsRepository,
    SizingRecordsService,
    StandingsRepository,
    StandingsService,
  ],
  exports: [ConsequencesService, ControlFactsRepository, LaddersService, StandingsService],
})
export class SizingModule {}
