// The engine with all its functions.
import { serveEngine } from "./serve";

serveEngine();
