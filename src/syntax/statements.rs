//! One statement of the grammar becomes one [`Kind`] of the tree.

use super::grammar::Rule;
use super::line::Line;
use super::tree::{
    Argument, BedWord, CarriageWay, CastOnWord, CountSystem, EdgeChange, EdgeWord, Extent, GaitingWord, Kind,
    LoopsFrom, MachineLine, Manner, Name, NeedlesWord, Parameter, ParameterKind, Promise, PromiseKind, RackPlace,
    SpeechWord, Taking, Text, YarnLine,
};

/// Reads the tokens inside the statement of that rule. Nothing comes back when the rule is no statement's.
pub(super) fn statement(rule: Rule, line: &mut Line<'_, '_>) -> Option<Kind> {
    let kind = match rule {
        Rule::row => Kind::Row(line.parts()?),
        Rule::rows => Kind::Rows(line.expression()?, line.parts()?),
        Rule::tubular => tubular(line)?,
        Rule::free_pass => {
            line.pass(Rule::pass);
            Kind::FreePass
        }

        Rule::pattern => Kind::Pattern(line.text()?),
        Rule::use_line => Kind::Use(line.text()?),
        Rule::machine => Kind::Machine(line.name()?),
        Rule::yarn => Kind::Yarn(line.name()?),
        Rule::gauge => Kind::Gauge(line.name()?),
        Rule::chart => Kind::Chart(line.name()?),
        Rule::fabric => Kind::Fabric(line.name()?),
        Rule::sizes => Kind::Sizes(names(line)?),
        Rule::let_line => {
            let name = line.name()?;
            line.pass(Rule::equals);
            Kind::Let(name, line.expression()?)
        }
        Rule::stitch => stitch(line)?,
        Rule::words_line => Kind::ChartLine(line.text()?),
        Rule::fabric_line => Kind::FabricLine(Text {
            text: line.words(line.whole).into(),
            span: line.piece.span(line.whole.start, line.whole.end),
        }),
        Rule::gauge_line => gauge_line(line)?,

        Rule::needles_line
        | Rule::pitch
        | Rule::racking
        | Rule::racking_slack
        | Rule::racking_step
        | Rule::longest_wait
        | Rule::widest_cross
        | Rule::half_step
        | Rule::selectors
        | Rule::hold_line
        | Rule::transfer_carriage
        | Rule::transfer_place
        | Rule::transfer_sizes
        | Rule::most_tucks
        | Rule::most_adjacent_tucks
        | Rule::longest_float
        | Rule::stitch_sizes
        | Rule::emptied_needles => Kind::MachineLine(machine_line(rule, line)?),

        Rule::count_line => Kind::YarnLine(count_line(line)?),
        Rule::colour => Kind::YarnLine(YarnLine::Colour(line.text()?)),
        Rule::fibre => Kind::YarnLine(YarnLine::Fibre(line.text()?)),
        Rule::ball => Kind::YarnLine(YarnLine::Ball(line.expression()?)),
        Rule::strands => Kind::YarnLine(YarnLine::Strands(line.expression()?)),
        Rule::plain_rows => {
            line.pass(Rule::at_size);
            Kind::YarnLine(YarnLine::PlainRows(line.expression()?))
        }

        Rule::piece => piece(line)?,
        Rule::section => Kind::Section(line.text()?),
        Rule::gaiting => Kind::Gaiting(gaiting(line)?),
        Rule::rack_to => {
            line.pass(Rule::to);
            Kind::RackTo(place(line)?)
        }
        Rule::rack_by => Kind::RackBy(line.expression()?, line.side()?),
        Rule::thread => Kind::Thread(line.name()?),
        Rule::stitch_size => Kind::StitchSize(stitch_size(line)?),
        Rule::carriage => Kind::Carriage(line.side()?),
        Rule::reset_counter => {
            line.pass(Rule::counter);
            Kind::ResetCounter
        }

        Rule::cast_on => cast_on(line)?,
        Rule::transfer => {
            let from = line.target()?;
            line.pass(Rule::to);
            Kind::Transfer { from, to: line.bed()?, manner: manner(line)? }
        }
        Rule::move_stitches => move_stitches(line)?,
        Rule::cross => {
            let bed = line.bed()?;
            let over = line.expression()?;
            line.pass(Rule::over);
            Kind::Cross { bed, over, under: line.expression()? }
        }
        Rule::increase => edge_statement(line, Kind::Increase)?,
        Rule::decrease => edge_statement(line, Kind::Decrease)?,
        Rule::pick_up => {
            line.pass(Rule::up);
            let targets = line.targets()?;
            let from = if !line.pass(Rule::from) {
                LoopsFrom::Fabric
            } else if line.pass(Rule::waste_yarn) {
                LoopsFrom::Waste
            } else {
                LoopsFrom::Named(line.text()?)
            };
            Kind::PickUp(targets, from)
        }
        Rule::onto_waste => {
            line.pass(Rule::waste_yarn);
            let targets = line.targets()?;
            Kind::OntoWaste(targets, if line.pass(Rule::as_word) { Some(line.text()?) } else { None })
        }
        Rule::cut_yarn => {
            line.pass(Rule::yarn_word);
            Kind::CutYarn
        }

        Rule::repeat => {
            let times = line.expression()?;
            line.pass(Rule::times);
            Kind::Repeat(times)
        }
        Rule::work => work(line)?,
        Rule::follow => Kind::Follow(line.name()?, extent(line)?),
        Rule::shape => {
            line.pass(Rule::over);
            let rows = line.expression()?;
            line.pass(Rule::rows_word);
            Kind::Shape(rows)
        }
        Rule::arrange => Kind::Arrange(line.targets()?),

        Rule::remind => {
            line.pass(Rule::every_word);
            let every = line.expression()?;
            line.pass(Rule::rows_word);
            Kind::Remind(every, line.text()?)
        }
        Rule::expect => expect(line)?,
        Rule::allow => {
            let name = line.name()?;
            line.pass(Rule::because);
            Kind::Allow(name, line.text()?)
        }
        _ => match NeedlesWord::of_rule(rule) {
            Some((word, behind)) => {
                behind.map(|behind| line.pass(behind));
                Kind::Needles(word, line.targets()?)
            }
            None => Kind::Say(SpeechWord::of_rule(rule)?, line.text()?),
        },
    };
    // What the grammar took and nobody read would be lost in silence.
    line.peek().is_none().then_some(kind)
}

fn tubular(line: &mut Line<'_, '_>) -> Option<Kind> {
    let rows = line.expression()?;
    line.pass(Rule::rows_word);
    let first = if line.pass(Rule::comma) {
        let bed = line.bed()?;
        line.pass(Rule::first);
        bed
    } else {
        BedWord::Front
    };
    Some(Kind::Tubular(rows, first))
}

fn names(line: &mut Line<'_, '_>) -> Option<Vec<Name>> {
    let mut names = vec![line.name()?];
    while line.pass(Rule::comma) {
        names.push(line.name()?);
    }
    Some(names)
}

fn stitch(line: &mut Line<'_, '_>) -> Option<Kind> {
    let name = line.name()?;
    let mut parameters = Vec::new();
    if line.pass(Rule::bracket) {
        loop {
            let name = line.name()?;
            let token = line.take(Rule::meaning)?;
            let kind = match line.words(token) {
                "number" => ParameterKind::Number,
                "rows" => ParameterKind::Rows,
                "stitches" => ParameterKind::Stitches,
                "needles" => ParameterKind::Needles,
                "length" => ParameterKind::Length,
                _ => ParameterKind::Selection,
            };
            parameters.push(Parameter { name, kind });
            if !line.pass(Rule::comma) {
                break;
            }
        }
        line.pass(Rule::unbracket);
    }
    let (from, to) = if line.pass(Rule::on) {
        let bed = line.bed()?;
        (bed, bed)
    } else {
        line.pass(Rule::from);
        let from = line.bed()?;
        line.pass(Rule::to);
        (from, line.bed()?)
    };
    Some(Kind::Stitch { name, parameters, from, to })
}

fn gauge_line(line: &mut Line<'_, '_>) -> Option<Kind> {
    let token = line.take(Rule::quantity)?;
    let stitches = line.quantity_of(token);
    line.pass(Rule::and);
    let token = line.take(Rule::quantity)?;
    let rows = line.quantity_of(token);
    line.pass(Rule::in_word);
    let token = line.take(Rule::quantity)?;
    let over = line.quantity_of(token);
    line.pass(Rule::comma);
    let state = line
        .take(Rule::washing)
        .map(|token| Name { text: line.words(token).into(), span: line.span_from(token.start) });
    Some(Kind::GaugeLine { stitches, rows, over, state })
}

/// `both beds`, `front bed`, `none`
fn beds_or_none(line: &mut Line<'_, '_>) -> Option<Option<BedWord>> {
    if line.pass(Rule::none) {
        return Some(None);
    }
    let bed = line.bed()?;
    line.pass(Rule::beds);
    Some(Some(bed))
}

fn machine_line(rule: Rule, line: &mut Line<'_, '_>) -> Option<MachineLine> {
    Some(match rule {
        Rule::needles_line => {
            let count = line.count_expression()?;
            line.pass(Rule::each_side);
            MachineLine::Needles(count)
        }
        Rule::pitch => MachineLine::Pitch(line.expression()?),
        Rule::racking => {
            let bed = line.bed()?;
            line.pass(Rule::beds);
            line.pass(Rule::comma);
            let left = line.expression()?;
            line.pass(Rule::to_the_left);
            line.pass(Rule::to);
            let right = line.expression()?;
            line.pass(Rule::to_the_right);
            MachineLine::Racking { bed, left, right }
        }
        Rule::racking_slack => MachineLine::RackingSlack(line.expression()?),
        Rule::racking_step => MachineLine::RackingStep(line.expression()?),
        Rule::longest_wait => MachineLine::LongestWait(line.expression()?),
        Rule::widest_cross => MachineLine::WidestCross(line.expression()?),
        Rule::half_step => {
            line.pass(Rule::step);
            if line.pass(Rule::to) {
                line.pass(Rule::the_side);
                MachineLine::HalfStepWay(line.side()?)
            } else {
                line.pass(Rule::with);
                MachineLine::HalfStep(line.next()?.rule == Rule::handle)
            }
        }
        Rule::selectors => MachineLine::Selectors(beds_or_none(line)?),
        Rule::hold_line => MachineLine::Hold(beds_or_none(line)?),
        Rule::transfer_carriage if line.pass(Rule::takes) => {
            let mut takes = Vec::new();
            while line.pass(Rule::taking) {
                takes.push(match line.next()?.rule {
                    Rule::every_stitch => Taking::EveryStitch,
                    Rule::every_second => Taking::EverySecond,
                    Rule::lone_stitches => Taking::LoneStitches,
                    _ => Taking::PickedNeedles,
                });
                line.pass(Rule::comma);
            }
            MachineLine::TransferTakes(takes)
        }
        Rule::transfer_place => MachineLine::TransferPlace(line.text()?),
        Rule::transfer_sizes => {
            line.pass(Rule::at_size);
            let from = line.expression()?;
            line.pass(Rule::to);
            MachineLine::TransferSizes(from, line.expression()?)
        }
        Rule::transfer_carriage => {
            let mut ways = Vec::new();
            while line.pass(Rule::to) {
                let to = line.bed()?;
                let from = if line.pass(Rule::from) { Some(line.side()?) } else { None };
                ways.push(CarriageWay { to, from });
                line.pass(Rule::comma);
            }
            MachineLine::TransferCarriage(ways)
        }
        Rule::most_tucks => MachineLine::MostTucks(line.expression()?),
        Rule::most_adjacent_tucks => {
            line.pass(Rule::adjacent_tucks);
            MachineLine::MostAdjacentTucks(line.expression()?)
        }
        Rule::longest_float => {
            line.pass(Rule::float);
            MachineLine::LongestFloat(line.expression()?)
        }
        Rule::stitch_sizes => {
            let from = line.expression()?;
            line.pass(Rule::to);
            MachineLine::StitchSizes(from, line.expression()?)
        }
        Rule::emptied_needles => {
            line.pass(Rule::needles_word);
            MachineLine::EmptiedStay(line.next()?.rule == Rule::stay_in_work)
        }
        _ => return None,
    })
}

fn count_line(line: &mut Line<'_, '_>) -> Option<YarnLine> {
    let token = line.take(Rule::plain)?;
    let first = super::expressions::number(line.words(token));
    let second = if line.pass(Rule::stroke) {
        let token = line.take(Rule::plain)?;
        Some(super::expressions::number(line.words(token)))
    } else {
        None
    };
    let token = line.take(Rule::system)?;
    let system = match line.words(token) {
        "Nm" => CountSystem::Metric,
        "tex" => CountSystem::Tex,
        "dtex" => CountSystem::Decitex,
        "denier" => CountSystem::Denier,
        "Ne" => CountSystem::Cotton,
        _ => CountSystem::Worsted,
    };
    Some(YarnLine::Count { first, second, system })
}

fn piece(line: &mut Line<'_, '_>) -> Option<Kind> {
    let title = line.text()?;
    let mut make = None;
    if line.pass(Rule::comma) {
        line.pass(Rule::make);
        make = Some(line.expression()?);
    }
    let machine = if line.pass(Rule::on) { Some(line.name()?) } else { None };
    Some(Kind::Piece { title, make, machine })
}

fn gaiting(line: &mut Line<'_, '_>) -> Option<GaitingWord> {
    let token = line.take(Rule::gaiting_word)?;
    Some(if line.words(token) == "between" { GaitingWord::Between } else { GaitingWord::Opposite })
}

fn place(line: &mut Line<'_, '_>) -> Option<RackPlace> {
    if line.pass(Rule::centre) {
        return Some(RackPlace::Centre);
    }
    Some(RackPlace::At(line.expression()?, line.side()?))
}

fn stitch_size(line: &mut Line<'_, '_>) -> Option<Vec<(BedWord, super::tree::Expression)>> {
    let Some(bed) = line.bed() else {
        return Some(vec![(BedWord::Both, line.expression()?)]);
    };
    let mut sizes = vec![(bed, line.expression()?)];
    while line.pass(Rule::comma) {
        sizes.push((line.bed()?, line.expression()?));
    }
    Some(sizes)
}

fn cast_on(line: &mut Line<'_, '_>) -> Option<Kind> {
    line.pass(Rule::on);
    let token = line.take(Rule::cast_on_kind)?;
    let how = match line.words(token) {
        "zigzag" => CastOnWord::Zigzag,
        "open" => CastOnWord::Open,
        "wound" => CastOnWord::Wound,
        _ => CastOnWord::Chain,
    };
    let targets = if line.peek().is_some() { line.targets()? } else { Vec::new() };
    Some(Kind::CastOn(how, targets))
}

fn manner(line: &mut Line<'_, '_>) -> Option<Manner> {
    let mut manner = Manner::default();
    while line.pass(Rule::comma) {
        match line.next()?.rule {
            Rule::joining => manner.joining = true,
            Rule::emptied => manner.emptied_stay = Some(line.next()?.rule == Rule::stay_in_work),
            Rule::by => manner.by_hand = Some(line.next()?.rule == Rule::hand),
            _ => return None,
        }
    }
    Some(manner)
}

fn move_stitches(line: &mut Line<'_, '_>) -> Option<Kind> {
    let from = line.target()?;
    if line.pass(Rule::to) {
        return Some(Kind::MoveTo { from, to: line.target()?, manner: manner(line)? });
    }
    Some(Kind::Move { from, by: line.expression()?, toward: line.side()?, manner: manner(line)? })
}

/// The rest of `increase` and `decrease`; with `evenly` behind it the line is one of a `shape` block.
fn edge_statement(line: &mut Line<'_, '_>, plain: fn(EdgeChange) -> Kind) -> Option<Kind> {
    let bed = line.bed()?;
    let by = line.expression()?;
    line.pass(Rule::at);
    let token = line.take(Rule::edge)?;
    let edge = match line.words(token) {
        "left" => EdgeWord::Left,
        "right" => EdgeWord::Right,
        _ => EdgeWord::Each,
    };
    line.pass(Rule::comma);
    let inset = if line.pass(Rule::inset) { Some(line.expression()?) } else { None };
    line.pass(Rule::comma);
    let change = EdgeChange { bed, by, edge, inset };
    if line.pass(Rule::slope) {
        let times = line.expression()?;
        line.pass(Rule::times);
        line.pass(Rule::evenly);
        return Some(Kind::Slope(change, times));
    }
    Some(plain(change))
}

fn extent(line: &mut Line<'_, '_>) -> Option<Extent> {
    if line.pass(Rule::for_word) {
        return Some(Extent::For(line.expression()?));
    }
    if line.peek().is_none() {
        return Some(Extent::Once);
    }
    let times = line.expression()?;
    line.pass(Rule::times);
    Some(Extent::Times(times))
}

fn work(line: &mut Line<'_, '_>) -> Option<Kind> {
    let name = line.name()?;
    let mut arguments = Vec::new();
    if line.pass(Rule::bracket) {
        while line.pass(Rule::argument) {
            arguments.push(Argument { name: line.name()?, value: line.expression()? });
            line.pass(Rule::comma);
        }
        line.pass(Rule::unbracket);
    }
    Some(Kind::Work { name, arguments, extent: extent(line)? })
}

fn expect(line: &mut Line<'_, '_>) -> Option<Kind> {
    let mut promises = Vec::new();
    while line.peek() == Some(Rule::promise) {
        let token = line.next()?;
        let kind = match line.peek()? {
            Rule::carriage_word => {
                line.next();
                PromiseKind::Carriage(line.side()?)
            }
            Rule::counter => {
                line.next();
                PromiseKind::Counter(line.expression()?)
            }
            Rule::gaiting_start => {
                line.next();
                PromiseKind::Gaiting(gaiting(line)?)
            }
            Rule::racking_start => {
                line.next();
                PromiseKind::Racking(place(line)?)
            }
            Rule::tube_start => {
                line.next();
                let open = if line.pass(Rule::closed) {
                    None
                } else {
                    line.pass(Rule::open_at);
                    Some(line.side()?)
                };
                PromiseKind::Tube(open)
            }
            _ => {
                let count = line.expression()?;
                line.pass(Rule::stitches_word);
                PromiseKind::Stitches(count, line.bed()?)
            }
        };
        promises.push(Promise { kind, span: line.piece.span(token.start, token.end) });
        line.pass(Rule::comma);
    }
    Some(Kind::Expect(promises))
}
