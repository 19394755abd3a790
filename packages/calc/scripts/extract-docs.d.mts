export function renderDocs(): Promise<string>;
