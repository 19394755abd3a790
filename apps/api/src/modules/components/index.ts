export { ComponentsModule } from './components.module.js';
export { InstalledComponentsService } from './installed-components.service.js';
