export { canRead, isSwitchPossible } from './switch-points.js';
export { SettingsModule } from './settings.module.js';
export { SetupRecordsService } from './setup-records.service.js';
export { TargetSettingsService } from './target-settings.service.js';
