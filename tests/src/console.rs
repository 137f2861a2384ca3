//! Reads the console blocks of a document: commands, and what they print.

/// A command of a console block and the text printed below it.
#[derive(Debug, PartialEq, Eq)]
pub struct Command {
    /// The words of the command.
    pub words: Vec<String>,
    /// What it prints, as the document shows it.
    pub output: String,
}

/// A fenced block of a document: what stands after the opening fence, and the text inside.
#[derive(Debug, PartialEq, Eq)]
pub struct Block {
    /// What stands after the opening fence.
    pub language: String,
    /// The text inside.
    pub text: String,
}

/// The fenced blocks of a Markdown text, in order.
pub fn blocks(markdown: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for line in markdown.lines() {
        match (line.trim_start().strip_prefix("```"), &mut open) {
            (Some(language), None) => {
                open = Some(Block { language: language.trim().to_owned(), text: String::new() });
            }
            (Some(_), Some(_)) => blocks.extend(open.take()),
            (None, Some(block)) => {
                block.text.push_str(line);
                block.text.push('\n');
            }
            (None, None) => {}
        }
    }
    assert!(open.is_none(), "a fenced block is not closed");
    blocks
}

/// The commands of a console block: each begins with `$ ` and goes on while a quotation is open or a line ends in `\`.
pub fn commands(block: &str) -> Vec<Command> {
    let mut commands: Vec<Command> = Vec::new();
    let mut unfinished: Option<String> = None;
    for line in block.lines() {
        let text = match unfinished.take() {
            Some(before) => format!("{before}\n{line}"),
            None => match line.strip_prefix("$ ") {
                Some(text) => text.to_owned(),
                None => {
                    let command = commands.last_mut().unwrap_or_else(|| panic!("`{line}` stands before any command"));
                    command.output.push_str(line);
                    command.output.push('\n');
                    continue;
                }
            },
        };
        match words(&text) {
            Some(words) => commands.push(Command { words, output: String::new() }),
            None => unfinished = Some(text),
        }
    }
    assert!(unfinished.is_none(), "a command is not finished: {unfinished:?}");
    commands
}

/// The words of a command line, by the quoting rules of a shell; nothing when the line goes on.
fn words(text: &str) -> Option<Vec<String>> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        match character {
            '\'' | '"' => {
                let word = word.get_or_insert_default();
                loop {
                    match characters.next()? {
                        end if end == character => break,
                        '\\' if character == '"' => word.push(characters.next()?),
                        inside => word.push(inside),
                    }
                }
            }
            '\\' => match characters.next()? {
                '\n' => {}
                escaped => word.get_or_insert_default().push(escaped),
            },
            ' ' | '\n' => words.extend(word.take()),
            other => word.get_or_insert_default().push(other),
        }
    }
    words.extend(word);
    Some(words)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_console_block_is_read_into_commands_and_outputs() {
        let text = "Before.\n```console\n$ curl -s http://localhost/a \\\n  --json '{\n  \"b\": \"c d\"\n}'\n{\"e\": 1}\n$ true\n```\nAfter.\n```json\n{}\n```\n";
        let blocks = blocks(text);
        assert_eq!(blocks.iter().map(|block| block.language.as_str()).collect::<Vec<_>>(), ["console", "json"]);
        let commands = commands(&blocks[0].text);
        assert_eq!(commands[0].words, ["curl", "-s", "http://localhost/a", "--json", "{\n  \"b\": \"c d\"\n}"]);
        assert_eq!(commands[0].output, "{\"e\": 1}\n");
        assert_eq!(commands[1], Command { words: vec!["true".to_owned()], output: String::new() });
    }
}
