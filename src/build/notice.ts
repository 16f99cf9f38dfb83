// Whoever changes a library says so in what is handed on: both licences ask for it.
import type { Plugin } from "vite";

/** A hook that puts a notice before every built file in which the library is. `isOfLibrary` knows its modules by path. */
export function noticeOf(notice: string, isOfLibrary: (id: string) => boolean): Pick<Plugin, "generateBundle"> {
  return {
    generateBundle(_options, bundle) {
      for (const file of Object.values(bundle))
        if (file.type === "chunk" && file.moduleIds.some(isOfLibrary)) file.code = `/*! ${notice} */\n${file.code}`;
    },
  };
}
