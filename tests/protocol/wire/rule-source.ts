import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

const SRC = path.join(import.meta.dirname, '../../../src');

/** A declaration at the top of a file, or a name that it takes from another. */
type Known = { readonly node: ts.Node } | { readonly from: string; readonly name: string };

interface Module {
  readonly name: string;
  readonly source: ts.SourceFile;
  readonly names: ReadonlyMap<string, Known>;
}

/** Files as they are read: those of src, or texts that a test gives. */
export type Read = (file: string) => string;

function isValue(node: ts.Statement): boolean {
  return !ts.isInterfaceDeclaration(node) && !ts.isTypeAliasDeclaration(node);
}

/** What a declaration names: several things where it takes another apart. */
function boundBy(name: ts.BindingName): string[] {
  if (ts.isIdentifier(name)) return [name.text];
  return name.elements.flatMap((element) => (ts.isBindingElement(element) ? boundBy(element.name) : []));
}

function namesIn(statement: ts.Statement, file: string): [string, Known][] {
  if (ts.isVariableStatement(statement)) {
    const { declarations } = statement.declarationList;
    return declarations.flatMap((node) => boundBy(node.name).map((name): [string, Known] => [name, { node }]));
  }
  if (ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement) || ts.isEnumDeclaration(statement)) {
    return statement.name ? [[statement.name.text, { node: statement }]] : [];
  }
  if (!ts.isImportDeclaration(statement) || !ts.isStringLiteral(statement.moduleSpecifier)) return [];
  const to = statement.moduleSpecifier.text;
  const from = to.startsWith('.') ? path.posix.join(path.posix.dirname(file), to) : to;
  const { name: whole, namedBindings: named } = statement.importClause ?? {};
  // by no name of its file: not followed, which is told where it is met
  const other = whole ?? (named && ts.isNamespaceImport(named) ? named.name : undefined);
  const elements = named && ts.isNamedImports(named) ? [...named.elements] : [];
  return [
    ...(other ? [[other.text, { from, name: 'default' }] satisfies [string, Known]] : []),
    ...elements.map((one): [string, Known] => [one.name.text, { from, name: (one.propertyName ?? one.name).text }]),
  ];
}

function parsed(name: string, text: string): Module {
  const source = ts.createSourceFile(name, text, ts.ScriptTarget.Latest, true);
  const names = source.statements.filter(isValue).flatMap((statement) => namesIn(statement, name));
  return { name, source, names: new Map(names) };
}

/** A compiler may write it so. */
function isUndefined(node: ts.Node): boolean {
  return ts.isVoidExpression(node) && ts.isNumericLiteral(node.expression);
}

function signsIn(node: ts.Node, source: ts.SourceFile): string {
  if (ts.isParenthesizedExpression(node)) return signsIn(node.expression, source);
  if (isUndefined(node)) return 'undefined';
  if (ts.isStringLiteral(node)) return JSON.stringify(node.text);
  const children = node.getChildren(source).filter(({ kind }) => kind !== ts.SyntaxKind.SemicolonToken);
  if (children.at(-1)?.kind === ts.SyntaxKind.CommaToken) children.pop();
  if (children.length === 0) return node.kind === ts.SyntaxKind.SyntaxList ? '' : node.getText(source);
  const signs = children.map((child) => signsIn(child, source)).filter((one) => one !== '');
  return signs.length === 1 ? (signs[0] ?? '') : `(${signs.join(' ')})`;
}

/**
 * The signs of a text of JavaScript or TypeScript, in brackets as they belong together, however it is written: without
 * types, comments, spaces and what a compiler adds to imported names, so that a function in its file and the same one as
 * it runs are alike.
 */
export function signsOf(text: string): string {
  const plain = text.replaceAll(/__vi(te_ssr)?_import_\d+__\./g, '').replaceAll(/\(0,\s*(\w+)\)/g, '$1');
  const code = plain.replace(/^\s*export\s+/, '');
  const isRule = /^(async\s+)?(function\b|\()/.test(code);
  const options = { target: ts.ScriptTarget.ESNext, removeComments: true, verbatimModuleSyntax: true };
  const { outputText } = ts.transpileModule(isRule ? `(${code})` : code, { compilerOptions: options });
  const source = ts.createSourceFile('rule.js', outputText, ts.ScriptTarget.Latest, true);
  return source.statements.map((statement) => signsIn(statement, source)).join(' ');
}

/** For people who compare two fixtures. */
function inOneLine(node: ts.Node): string {
  return node
    .getText()
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/,(?= ?[)\]}])/g, '');
}

function isFunctionLike(node: ts.Node): boolean {
  const value = ts.isVariableDeclaration(node) ? node.initializer : node;
  return value !== undefined && ts.isFunctionLike(value);
}

/** Names that a node may take from around it; one that is hidden by a parameter is taken too, which does no harm. */
function mentioned(node: ts.Node): string[] {
  const names: string[] = [];
  const visit = (one: ts.Node): void => {
    if (ts.isTypeNode(one)) return;
    const { parent } = one;
    const isPart =
      (ts.isPropertyAccessExpression(parent) && parent.name === one) ||
      (ts.isPropertyAssignment(parent) && parent.name === one);
    if (ts.isIdentifier(one) && !isPart) names.push(one.text);
    ts.forEachChild(one, visit);
  };
  visit(node);
  return names;
}

/** What the rules of the shapes are made of, from the files that declare them. */
export class RuleSource {
  readonly #read: Read;
  readonly #modules = new Map<string, Module>();
  /** Each rule by the signs of its function; of several that read alike, and lead elsewhere, all hashes. */
  readonly #rules = new Map<string, { readonly text: string; readonly hashes: Set<string> }>();
  readonly #signs = new Map<unknown, string>();

  /** @param files those in which rules are given to shapes by `.refine` */
  constructor(files: readonly string[], read: Read) {
    this.#read = read;
    for (const file of files) this.#find(this.#module(file));
  }

  /** How a rule is given, by text or by name, and a hash of it with all that it calls. Undefined for one that is given nowhere here. */
  ruleOf(rule: (...values: never[]) => unknown): string | undefined {
    const signs = this.#signs.get(rule) ?? signsOf(rule.toString());
    this.#signs.set(rule, signs);
    const found = this.#rules.get(signs);
    return found && [found.text, ...[...found.hashes].sort()].join(' #');
  }

  #module(file: string): Module {
    const known = this.#modules.get(file) ?? parsed(file, this.#read(file));
    this.#modules.set(file, known);
    return known;
  }

  #find(module: Module): void {
    const visit = (node: ts.Node): void => {
      ts.forEachChild(node, visit);
      if (!ts.isCallExpression(node) || !ts.isPropertyAccessExpression(node.expression)) return;
      const [given] = node.arguments;
      if (node.expression.name.text !== 'refine' || !given) return;
      const found = ts.isIdentifier(given) ? this.#declared(module, given.text) : { module, node: given };
      if (!found) return;
      const rule = (ts.isVariableDeclaration(found.node) ? found.node.initializer : undefined) ?? found.node;
      const hash = createHash('sha256').update(this.#reached(found.module, found.node).join('\n'));
      const signs = signsOf(rule.getText());
      const known = this.#rules.get(signs) ?? { text: inOneLine(given), hashes: new Set() };
      this.#rules.set(signs, known);
      known.hashes.add(hash.digest('hex').slice(0, 16));
    };
    visit(module.source);
  }

  #declared(module: Module, name: string): { readonly module: Module; readonly node: ts.Node } | null {
    const known = module.names.get(name);
    if (known === undefined) return null;
    if ('node' in known) return { module, node: known.node };
    if (!known.from.endsWith('.ts')) return null;
    const found = this.#declared(this.#module(known.from), known.name);
    if (found) return found;
    const where = `${module.name} takes ${name} from ${known.from}, which declares no ${known.name}`;
    throw new Error(`${where}: import what rules use by its name, from the file that declares it`);
  }

  /** The signs of a node and of every declaration that it leads to. What the catalog lists has dates of its own. */
  #reached(module: Module, node: ts.Node, seen = new Map<ts.Node, string>()): string[] {
    if (seen.has(node)) return [];
    const isData = module.name.startsWith('catalog/') && !isFunctionLike(node);
    seen.set(node, isData ? '' : signsOf(node.getText()));
    if (!isData) {
      for (const name of mentioned(node)) {
        const found = this.#declared(module, name);
        if (found) this.#reached(found.module, found.node, seen);
      }
    }
    return [...seen.values()].sort();
  }
}

let own: RuleSource | null = null;

/** The rules of everything under src/protocol; read once. */
export function ownRules(): RuleSource {
  own ??= readOwnRules();
  return own;
}

function readOwnRules(): RuleSource {
  const files = readdirSync(path.join(SRC, 'protocol'), { recursive: true, encoding: 'utf8' })
    .map((name) => `protocol/${name.split(path.sep).join('/')}`)
    .filter((name) => name.endsWith('.ts'));
  return new RuleSource(files, (file) => readFileSync(path.join(SRC, file), 'utf8'));
}
