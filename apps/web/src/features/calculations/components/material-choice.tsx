'use client';

import { CUTTING_MATERIALS } from '@repo/calc/materials';
import { useState } from 'react';
import { useTranslate } from '@/lib/i18n/i18n';
import { SelectField } from '@/ui/field';
import type { Drafts } from '../forms';

const PASCAL = 1e6;

/** Workpiece materials with kc1.1 and mc: choosing one fills the two fields, and says where its figures come from. */
export function MaterialChoice({ drafts, onChange }: { drafts: Drafts; onChange: (drafts: Drafts) => void }) {
  const t = useTranslate();
  const [chosen, setChosen] = useState('');
  const { kc11, mc } = drafts;
  const material = CUTTING_MATERIALS.find(({ id }) => id === chosen);
  // Figures typed over are no longer those of the table.
  const stands =
    material !== undefined && kc11?.text === String(material.kc11Pa / PASCAL) && mc?.text === String(material.mc);
  return (
    <SelectField
      label={t('calculations.material')}
      hint={
        material === undefined || !stands
          ? t('calculations.materialHint')
          : t(material.confirmed ? 'calculations.materialSource' : 'calculations.materialUnconfirmed', {
              source: material.source,
            })
      }
      value={stands ? chosen : ''}
      choices={[
        { value: '', label: t('calculations.pick') },
        ...CUTTING_MATERIALS.map(({ id, name, confirmed }) => ({
          value: id,
          label: confirmed ? name : t('calculations.materialName', { name }),
        })),
      ]}
      onChange={(id) => {
        setChosen(id);
        const material = CUTTING_MATERIALS.find((one) => one.id === id);
        if (material === undefined || kc11 === undefined || mc === undefined) return;
        onChange({
          ...drafts,
          kc11: { ...kc11, text: String(material.kc11Pa / PASCAL), unit: 'N/mm2' },
          mc: { ...mc, text: String(material.mc) },
        });
      }}
    />
  );
}
