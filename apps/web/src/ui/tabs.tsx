'use client';

import type { ReactNode } from 'react';
import { Tab, TabList, TabPanel, Tabs as AriaTabs } from 'react-aria-components';
import styles from './tabs.module.css';

export interface TabItem {
  id: string;
  title: string;
  content: ReactNode;
}

export function Tabs({
  label,
  items,
  selected,
  onSelect,
}: {
  label: string;
  items: readonly TabItem[];
  selected: string;
  onSelect: (id: string) => void;
}) {
  return (
    <AriaTabs selectedKey={selected} onSelectionChange={(key) => onSelect(String(key))}>
      <TabList aria-label={label} className={styles['list'] ?? ''}>
        {items.map((item) => (
          <Tab key={item.id} id={item.id} className={styles['tab'] ?? ''}>
            {item.title}
          </Tab>
        ))}
      </TabList>
      {items.map((item) => (
        <TabPanel key={item.id} id={item.id} className={styles['panel'] ?? ''}>
          {item.content}
        </TabPanel>
      ))}
    </AriaTabs>
  );
}
