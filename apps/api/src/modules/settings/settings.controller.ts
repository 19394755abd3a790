import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { SetupRecordsService } from './setup-records.service.js';
import { TargetSettingsService } from './target-settings.service.js';

type Targets = typeof routes.targetSettings;
type Setups = typeof routes.setupRecords;

@Controller()
export class SettingsController {
  constructor(
    private readonly targets: TargetSettingsService,
    private readonly setups: SetupRecordsService,
  ) {}

  @Handles(routes.targetSettings.list)
  listTargets(@Input() { query }: InputOf<Targets['list']>) {
    return this.targets.list(query);
  }

  @Handles(routes.targetSettings.get)
  getTarget(@Input() { params }: InputOf<Targets['get']>) {
    return this.targets.get(params.id);
  }

  @Handles(routes.targetSettings.release)
  release(@Input() { body }: InputOf<Targets['release']>) {
    return this.targets.release(body);
  }

  @Handles(routes.setupRecords.list)
  listSetups(@Input() { query }: InputOf<Setups['list']>) {
    return this.setups.list(query);
  }

  @Handles(routes.setupRecords.get)
  getSetup(@Input() { params }: InputOf<Setups['get']>) {
    return this.setups.get(params.id);
  }

  @Handles(routes.setupRecords.create)
  record(@Input() { body }: InputOf<Setups['create']>) {
    return this.setups.create(body);
  }
}
