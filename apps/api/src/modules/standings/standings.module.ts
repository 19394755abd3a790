import { Module } from '@nestjs/common';
import { StandingsBook } from './standings-book.js';
import { StandingsBookRepository } from './standings-book.repository.js';
import { StandingsController } from './standings.controller.js';
import { StandingsRepository } from './standings.repository.js';
import { StandingsService } from './standings.service.js';

@Module({
  controllers: [StandingsController],
  providers: [StandingsBook, StandingsBookRepository, StandingsRepository, StandingsService],
  exports: [StandingsBook, StandingsService],
})
export class StandingsModule {}
