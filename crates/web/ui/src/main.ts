// Every page works without this script; it adds what only a script can do.
import "./styles/main.css";
