import { issueEvidence } from './documents/issue-evidence.js';
import { controlBehaviour, marginsAsked } from './documents/asked-of-circuits.js';
import { componentFigures } from './documents/component-figures.js';
import { fixtureElements } from './documents/fixture-elements.js';
import { operationCut } from './documents/operation-cut.js';
import { reportedAlarms, reportedMeasures } from './modules/alarm-counts/count-documents.js';
import { findingDetail } from './modules/findings/finding-detail.js';
import {
  columnsBefore,
  importCounts,
  importMapping,
  importReading,
  rowRecords,
  rowRemarks,
} from './modules/imports/import-documents.js';
import { accessWindows } from './modules/sites/access-windows.js';
import { sizingDocument, staleReasons } from './modules/sizing/stored-sizing.js';
import { standingSummary } from './modules/standings/stored-standing.js';
import { noticeDetails } from './modules/users/notice-details.js';
import { auditChanges } from './platform/audit/audit-changes.js';
import type { StoredDocument } from './platform/documents/index.js';
import { enteredQuantity } from './platform/http/quantity-out.js';
import { jobParameters, jobProblem, jobResult } from './platform/queue/job-documents.js';

type Reader = Pick<StoredDocument<unknown>, 'name' | 'read'>;

/** Which document lies in which column: `table.column`. */
const DOCUMENTS: Readonly<Record<string, Reader>> = {
  'alarm_counts.alarms': reportedAlarms,
  'alarm_counts.measures': reportedMeasures,
  'audit_entries.changes': auditChanges,
  'circuit_standings.summary': standingSummary,
  'component_type_revisions.figures': componentFigures,
  'component_types.figures': componentFigures,
  'findings.detail': findingDetail,
  'fixtures.elements': fixtureElements,
  // Of what an import changed; of what it made nothing was there before.
  'import_changes.before': columnsBefore,
  'import_mappings.mapping': importMapping,
  'import_rows.findings': rowRemarks,
  'import_rows.records': rowRecords,
  'imports.counts': importCounts,
  'imports.mapping': importMapping,
  'imports.reading': importReading,
  'installed_components.figures': componentFigures,
  'issues.evidence': issueEvidence,
  'jobs.parameters': jobParameters,
  'jobs.problem': jobProblem,
  'jobs.result': jobResult,
  'machines.control_behaviour': controlBehaviour,
  'notices.details': noticeDetails,
  'operations.cut': operationCut,
  'organisations.margins_asked': marginsAsked,
  'setup_records.fixture_elements': fixtureElements,
  'sites.access_windows': accessWindows,
  'sizing_records.canonical_text': sizingDocument,
  'sizing_currencies.reasons': staleReasons,
};

/** The document that lies in a column; beside every value in SI lies what was entered. */
export const documentOf = (column: string): Reader | undefined =>
  DOCUMENTS[column] ?? (column.endsWith('_entered') ? enteredQuantity : undefined);

/** Every column of the table above. */
export const storedColumns: readonly string[] = Object.keys(DOCUMENTS);
