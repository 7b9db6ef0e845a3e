import * as vscode from 'vscode';

/** The one YAML language tool that reads the `yamlValidation` of other extensions. */
const yamlTool = 'redhat.vscode-yaml';

/**
 * True where a YAML language tool is here that was given our schema: it then proposes and explains keys, and we leave that
 * to it, so that nothing is said twice. The schema that it is given refuses nothing: problems are ours alone.
 */
export function yamlToolKnowsSchema(): boolean {
  return vscode.extensions.getExtension(yamlTool) !== undefined;
}
