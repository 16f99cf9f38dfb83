import "fake-indexeddb/auto";
import { describeStore } from "./contract";
import { openIdbHome } from "./idb-home";

describeStore("stand-in database", openIdbHome);
