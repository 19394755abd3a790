'use client';

import { routes, type Site } from '@repo/contracts';
import { useMemo } from 'react';
import { callApi } from '@/lib/api/client';
import { useApiChange } from '@/lib/api/hooks';
import { area, choice, combo, list, number, RecordForm, text, useRecordForm, type ValuesOf } from '@/lib/forms';
import { readBadly, readWell, type FieldDef } from '@/lib/forms/field-def';
import { useTranslate, type Translate } from '@/lib/i18n/i18n';
import { getBrowserZone } from '@/lib/zoned-day';
import { TextField } from '@/ui/field';
import { toWeekday, WEEKDAYS } from '../weekdays';

/** Every IANA zone that the browser knows, its own first. */
function listZones(t: Translate): { value: string; label: string }[] {
  const browserZone = getBrowserZone();
  const zones = [browserZone, ...Intl.supportedValuesOf('timeZone').filter((zone) => zone !== browserZone)];
  return zones.map((zone) => ({ value: zone, label: zone === browserZone ? t('sites.ownZone', { zone }) : zone }));
}

function clock(label: 'sites.from' | 'sites.to'): FieldDef<string, string> {
  return {
    label,
    toDraft: (value) => value,
    read: (draft) => (draft === '' ? readBadly('missing') : readWell(draft.slice(0, 5))),
    toText: (draft) => draft,
    render: ({ draft, errorOf: _errorOf, ...rest }) => <TextField {...rest} type="time" value={draft} />,
  };
}

const getFields = (t: Translate) => ({
  name: text({ label: 'sites.name', hint: 'sites.nameHint', isRequired: true, maxLength: 120 }),
  address: text({ label: 'sites.address' }),
  place: text({ label: 'sites.place', isRequired: true, maxLength: 120 }),
  country: text({ label: 'sites.country' }),
  timeZone: combo({
    label: 'sites.timeZone',
    hint: 'sites.timeZoneHint',
    isRequired: true,
    choices: listZones(t),
    emptyText: t('sites.noZone'),
  }),
  latitude: number({ label: 'sites.latitude', hint: 'sites.latitudeHint', least: -90, most: 90 }),
  longitude: number({ label: 'sites.longitude', hint: 'sites.longitudeHint', least: -180, most: 180 }),
  accessWindows: list({
    label: 'sites.access',
    hint: 'sites.accessHint',
    itemLabel: 'sites.window',
    addText: 'sites.addWindow',
    most: 28,
    parts: {
      weekday: choice({
        label: 'sites.weekday',
        choices: WEEKDAYS.map((weekday) => ({ value: String(weekday), label: toWeekday(weekday, t.languageTag) })),
      }),
      from: clock('sites.from'),
      to: clock('sites.to'),
    },
    blank: { weekday: '1', from: '07:00', to: '16:00' },
  }),
  note: area({ label: 'customers.note' }),
});
type Values = ValuesOf<ReturnType<typeof getFields>>;

const GROUPS = [
  { fields: ['name', 'address', 'place', 'country', 'timeZone', 'latitude', 'longitude', 'accessWindows', 'note'] },
] as const;

/** Weekdays are numbers on the wire and texts in a select. */
const toBody = <V extends Partial<Values>>({ accessWindows, ...rest }: V) => ({
  ...rest,
  ...(accessWindows === undefined
    ? {}
    : { accessWindows: accessWindows.map(({ weekday, from, to }) => ({ weekday: Number(weekday), from, to })) }),
});
const fromSite = (site: Site): Values => ({
  ...site,
  accessWindows: site.accessWindows.map((window) => ({ ...window, weekday: String(window.weekday) })),
});

const useFields = () => {
  const t = useTranslate();
  return useMemo(() => getFields(t), [t]);
};

function useWindowCheck() {
  const t = useTranslate();
  return ({ accessWindows }: Values) =>
    accessWindows.flatMap(({ from, to }, index) =>
      from < to ? [] : [{ field: `accessWindows.${index}.to`, text: t('sites.windowOrder', { number: index + 1 }) }],
    );
}

export function NewSiteForm({ customerId, onDone }: { customerId: string; onDone: (site: Site) => void }) {
  const t = useTranslate();
  const form = useRecordForm({
    name: `site-new-${customerId}`,
    fields: useFields(),
    check: useWindowCheck(),
    initial: {
      name: '',
      address: '',
      place: '',
      country: '',
      timeZone: getBrowserZone(),
      latitude: null,
      longitude: null,
      accessWindows: [],
      note: '',
    },
  });
  const create = useApiChange(routes.sites.create, {
    onDone: form.clearThen(({ data }) => onDone(data)),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('sites.add')}
      submitText={t('sites.add')}
      isPending={create.isPending}
      onSubmit={(values) =>
        create.mutate({ body: { id: form.id, customerId, ...toBody(values) } }, { onError: form.takeFailure })
      }
    />
  );
}

export function ChangeSiteForm({ site, etag, onDone }: { site: Site; etag: string | null; onDone: () => void }) {
  const t = useTranslate();
  const params = { id: site.id };
  const form = useRecordForm({
    name: `site-${site.id}`,
    fields: useFields(),
    check: useWindowCheck(),
    initial: fromSite(site),
    etag,
    readAgain: async () => {
      const answer = await callApi(routes.sites.get, { params });
      return { ...answer, data: fromSite(answer.data) };
    },
  });
  const change = useApiChange(routes.sites.update, {
    onDone: form.clearThen(onDone),
  });
  return (
    <RecordForm
      form={form}
      groups={GROUPS}
      label={t('sites.change')}
      submitText={t('action.save')}
      isPending={change.isPending}
      onSubmit={(_values, changed) =>
        change.mutate({ params, etag: form.etag, body: toBody(changed) }, { onError: form.takeFailure })
      }
    />
  );
}
