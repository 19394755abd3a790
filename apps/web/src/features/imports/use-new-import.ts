import { routes } from '@repo/contracts';
import { useRouter } from 'next/navigation';
import { useState } from 'react';
import { callApi, callUpload } from '@/lib/api/client';
import { createId } from '@/lib/ids';

/** Begins an import with a file and goes to its page. */
export function useNewImport() {
  const router = useRouter();
  const [error, setError] = useState<unknown>(null);
  const [isSending, setSending] = useState(false);
  const begin = async (file: File): Promise<void> => {
    setSending(true);
    setError(null);
    try {
      const id = createId();
      await callApi(routes.imports.create, { body: { id, fileName: file.name.slice(0, 120) } });
      await callUpload(routes.imports.upload, { id }, file);
      router.push(`/imports/${id}`);
    } catch (problem) {
      setError(problem);
      setSending(false);
    }
  };
  return { begin: (file: File) => void begin(file), error, isSending };
}
