import type { JSX } from 'preact';
import { useId } from 'preact/hooks';

/** A table out of a file, picked by hand. */
export function FilePick({ onFile }: { readonly onFile: (file: File) => Promise<void> }): JSX.Element {
  const id = useId();
  return (
    <div class="field drop">
      <label for={id}>A table from a file: CSV, TSV or text. Pick it, or drop it here.</label>
      <input
        id={id}
        type="file"
        accept=".csv,.tsv,.txt,.tab,.dat,text/*"
        onChange={(event) => {
          const [file] = event.currentTarget.files ?? [];
          if (file !== undefined) void onFile(file);
          // The same file, mended, can be picked again.
          event.currentTarget.value = '';
        }}
      />
    </div>
  );
}
