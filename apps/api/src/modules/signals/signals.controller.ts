import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input, type RouteInput } from '../../platform/http/route.decorator.js';
import { InterlockService } from './interlock.service.js';
import { MCodesService } from './m-codes.service.js';
import { SignalsService } from './signals.service.js';
import { WiresService } from './wires.service.js';

type MCodes = typeof routes.mCodes;
type Signals = typeof routes.signals;
type Wires = typeof routes.wires;
type Versioned = Pick<RouteInput, 'version'>;

@Controller()
export class SignalsController {
  constructor(
    private readonly mCodes: MCodesService,
    private readonly signals: SignalsService,
    private readonly wires: WiresService,
    private readonly interlock: InterlockService,
  ) {}

  @Handles(routes.mCodes.list)
  listMCodes(@Input() { query }: InputOf<MCodes['list']>) {
    return this.mCodes.list(query);
  }

  @Handles(routes.mCodes.get)
  getMCode(@Input() { params }: InputOf<MCodes['get']>) {
    return this.mCodes.get(params.id);
  }

  @Handles(routes.mCodes.create)
  createMCode(@Input() { body }: InputOf<MCodes['create']>) {
    return this.mCodes.create(body);
  }

  @Handles(routes.mCodes.update)
  updateMCode(@Input() { params, body, version }: InputOf<MCodes['update']> & Versioned) {
    return this.mCodes.update(params.id, version, body);
  }

  @Handles(routes.signals.list)
  listSignals(@Input() { query }: InputOf<Signals['list']>) {
    return this.signals.list(query);
  }

  @Handles(routes.signals.get)
  getSignal(@Input() { params }: InputOf<Signals['get']>) {
    return this.signals.get(params.id);
  }

  @Handles(routes.signals.create)
  createSignal(@Input() { body }: InputOf<Signals['create']>) {
    return this.signals.create(body);
  }

  @Handles(routes.signals.update)
  updateSignal(@Input() { params, body, version }: InputOf<Signals['update']> & Versioned) {
    return this.signals.update(params.id, version, body);
  }

  @Handles(routes.wires.list)
  listWires(@Input() { query }: InputOf<Wires['list']>) {
    return this.wires.list(query);
  }

  @Handles(routes.wires.get)
  getWire(@Input() { params }: InputOf<Wires['get']>) {
    return this.wires.get(params.id);
  }

  @Handles(routes.wires.create)
  createWire(@Input() { body }: InputOf<Wires['create']>) {
    return this.wires.create(body);
  }

  @Handles(routes.wires.update)
  updateWire(@Input() { params, body, version }: InputOf<Wires['update']> & Versioned) {
    return this.wires.update(params.id, version, body);
  }

  @Handles(routes.machines.interlock)
  proveInterlock(@Input() { params }: InputOf<(typeof routes.machines)['interlock']>) {
    return this.interlock.prove(params.id);
  }
}
