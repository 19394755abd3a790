import { Module } from '@nestjs/common';
import { ConsequencesService } from './consequences.service.js';
import { LadderFactsRepository } from './ladder-facts.repository.js';
import { LaddersService } from './ladders.service.js';
import { SizingController } from './sizing.controller.js';
import { SizingRecordsRepository } from './sizing-records.repository.js';
import { SizingRecordsService } from './sizing-records.service.js';
import { StandingsRepository } from './standings.repository.js';
import { StandingsService } from './standings.service.js';

@Module({
  controllers: [SizingController],
  providers: [
    ConsequencesService,
    LadderFactsRepository,
    LaddersService,
    SizingRecordsRepository,
    SizingRecordsService,
    StandingsRepository,
    StandingsService,
  ],
  exports: [ConsequencesService, LaddersService, StandingsService],
})
export class SizingModule {}
