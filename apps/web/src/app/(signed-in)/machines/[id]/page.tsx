import { AlarmCountsPanel } from '@/features/alarm-counts';
import { AddCircuit, AddPowerUnit, PlantPanel } from '@/features/circuits';
import { FitComponent, InstalledPanel } from '@/features/components';
import { FitFixture, OperationLinks, StationsPanel } from '@/features/fixtures';
import { IssuesPanel } from '@/features/issues';
import { listFirstReads, MachinePage } from '@/features/machines';
import { SettingsPanel } from '@/features/settings';
import { SizingPanel } from '@/features/sizing';
import { EventsPanel } from '@/features/visits';
import { FirstData } from '@/lib/api/first-data';
import { titleOf } from '@/lib/i18n/request-locale';

export const generateMetadata = titleOf('fleet.machine');

export default async function Page({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  return (
    <FirstData reads={listFirstReads(id)}>
      <MachinePage
        machineId={id}
        panels={{
          settings: <SettingsPanel machineId={id} />,
          components: <InstalledPanel machineId={id} />,
          issues: <IssuesPanel machineId={id} />,
          sizing: <SizingPanel machineId={id} />,
          events: <EventsPanel machineId={id} />,
          plant: <PlantPanel machineId={id} />,
          fixtures: <StationsPanel machineId={id} />,
          counts: <AlarmCountsPanel machineId={id} />,
          guide: {
            powerUnit: <AddPowerUnit machineId={id} look="strong" />,
            components: <FitComponent machineId={id} look="strong" />,
            fixtures: <FitFixture machineId={id} look="strong" />,
            operations: <OperationLinks machineId={id} />,
            circuits: <AddCircuit machineId={id} look="strong" />,
          },
        }}
      />
    </FirstData>
  );
}
