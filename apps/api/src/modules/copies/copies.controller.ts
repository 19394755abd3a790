import { Controller } from '@nestjs/common';
import { routes, type InputOf } from '@repo/contracts';
import { Handles, Input } from '../../platform/http/route.decorator.js';
import { CircuitCopiesService } from './circuit-copies.service.js';
import { ComponentCopiesService } from './component-copies.service.js';
import { ControlCopiesService } from './control-copies.service.js';
import { FixtureCopiesService } from './fixture-copies.service.js';
import { MachineCopiesService } from './machine-copies.service.js';

@Controller()
export class CopiesController {
  constructor(
    private readonly machines: MachineCopiesService,
    private readonly circuits: CircuitCopiesService,
    private readonly fixtures: FixtureCopiesService,
    private readonly components: ComponentCopiesService,
    private readonly control: ControlCopiesService,
  ) {}

  @Handles(routes.machines.copy)
  copyMachine(@Input() { params, body }: InputOf<(typeof routes.machines)['copy']>) {
    return this.machines.copy(params.id, body);
  }

  @Handles(routes.circuits.copy)
  copyCircuit(@Input() { params, body }: InputOf<(typeof routes.circuits)['copy']>) {
    return this.circuits.copy(params.id, body);
  }

  @Handles(routes.installedComponents.copyOfCircuit)
  copyComponentsOfCircuit(@Input() { params, body }: InputOf<(typeof routes.installedComponents)['copyOfCircuit']>) {
    return this.components.copyOfCircuit(params.id, body);
  }

  @Handles(routes.installedComponents.copyOfPowerUnit)
  copyComponentsOfPowerUnit(
    @Input() { params, body }: InputOf<(typeof routes.installedComponents)['copyOfPowerUnit']>,
  ) {
    return this.components.copyOfPowerUnit(params.id, body);
  }

  @Handles(routes.signals.copyControl)
  copyControl(@Input() { params, body }: InputOf<(typeof routes.signals)['copyControl']>) {
    return this.control.copy(params.id, body);
  }

  @Handles(routes.fixtures.copy)
  copyFixture(@Input() { params, body }: InputOf<(typeof routes.fixtures)['copy']>) {
    return this.fixtures.copy(params.id, body);
  }
}
