export { MCodesService } from './m-codes.service.js';
export { SignalsModule } from './signals.module.js';
export { SignalsService } from './signals.service.js';
export { WiresService } from './wires.service.js';
