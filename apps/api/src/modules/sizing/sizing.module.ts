import { Module } from '@nestjs/common';
import { AuditModule } from '../audit/index.js';
import { StandingsModule } from '../standings/index.js';
import { ConsequencesService, MOST_AT_ONCE } from './consequences.service.js';
import { CurrenciesRepository } from './currencies.repository.js';
import { DependenciesRepository } from './dependencies.repository.js';
import { FactsRepository } from './facts.repository.js';
import { CircuitProofsService } from './circuit-proofs.service.js';
import { ProofsService } from './proofs.service.js';
import { SizingController } from './sizing.controller.js';
import { SizingRecordsRepository } from './sizing-records.repository.js';
import { SizingRecordsService } from './sizing-records.service.js';
import { StandingsKeeper } from './standings-keeper.js';

@Module({
  imports: [AuditModule, StandingsModule],
  controllers: [SizingController],
  providers: [
    ConsequencesService,
    { provide: MOST_AT_ONCE, useValue: 200 },
    CurrenciesRepository,
    DependenciesRepository,
    FactsRepository,
    CircuitProofsService,
    ProofsService,
    SizingRecordsRepository,
    SizingRecordsService,
    StandingsKeeper,
  ],
  exports: [ConsequencesService, CircuitProofsService],
})
export class SizingModule {}
