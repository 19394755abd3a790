import { Module } from '@nestjs/common';
import { SizingModule } from '../sizing/index.js';
import { SettingsController } from './settings.controller.js';
import { SettingsRepository } from './settings.repository.js';
import { SetupRecordsService } from './setup-records.service.js';
import { TargetSettingsService } from './target-settings.service.js';

@Module({
  imports: [SizingModule],
  controllers: [SettingsController],
  providers: [TargetSettingsService, SetupRecordsService, SettingsRepository],
  exports: [SetupRecordsService, TargetSettingsService],
})
export class SettingsModule {}
