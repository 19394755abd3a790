import type { Source } from '@repo/contracts';
import { useTranslate } from '@/lib/i18n/i18n';
import { Status } from '@/lib/status/status';

/** Reports, silent, or no longer in use; a source that is silent proves nothing about its machines. */
export function SourceState({ source }: { source: Source }) {
  const t = useTranslate();
  if (source.archivedAt !== null) return <>{t('sources.archived')}</>;
  if (!source.isSilent && source.lastHeardAt === null) return <>{t('sources.never')}</>;
  return source.isSilent ? (
    <Status status="unproven">{t('sources.silent')}</Status>
  ) : (
    <Status status="holds">{t('sources.reports')}</Status>
  );
}

export function ClockOffset({ source }: { source: Source }) {
  const t = useTranslate();
  if (source.clockOffsetS === null) return null;
  const seconds = Math.round(Math.abs(source.clockOffsetS));
  if (seconds < 1) return <>{t('sources.clockRight')}</>;
  return <>{t(source.clockOffsetS > 0 ? 'sources.clockAhead' : 'sources.clockBehind', { seconds })}</>;
}
