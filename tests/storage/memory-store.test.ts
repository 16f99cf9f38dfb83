import { createMemoryStore, emptyRecords } from "../../src/storage/memory-store";
import { describeStore } from "./contract";

describeStore("memory", async () => {
  const records = emptyRecords();
  return {
    ...createMemoryStore(records),
    inAnotherTab: async () => createMemoryStore(records),
    plant: async (store, id, record) => {
      records[store].set(id, record);
    },
    end: async () => undefined,
  };
});
