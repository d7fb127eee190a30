//! The two drawings that carry the program, at the widths they must live with.

use crate::widgets::{BANDS, check};
use egui::{Ui, UiBuilder};
use gapwright::gui::{
    marks::VerdictMark,
    widgets::{self, Along, Face, Jaw, JawPart, MouthStation},
};

const JAW: Jaw = Jaw { reach: 1350.0, mouth: 250.0, cheek: 40.0, upper: 110.0, pivot: 44.0 };

fn parts() -> Vec<JawPart<'static>> {
    let part = |face, name, [near, far]: [f32; 2], depth, bolts: &[f32]| JawPart {
        face,
        name,
        near,
        far,
        depth,
        bolts: bolts.to_vec(),
    };
    use Face::{Cutting, Front, Guide, Moving};
    vec![
        part(Cutting, "Lower primary blade", [110.0, 588.0], 34.0, &[170.0, 290.0, 410.0, 530.0]),
        part(
            Cutting,
            "Lower secondary blade",
            [592.0, 1070.0],
            34.0,
            &[650.0, 770.0, 890.0, 1010.0],
        ),
        part(Cutting, "Cutting side of the tip", [1075.0, 1290.0], 34.0, &[1130.0, 1250.0]),
        part(Moving, "Upper primary blade", [110.0, 588.0], 50.0, &[]),
        part(Moving, "Upper secondary blade", [592.0, 1070.0], 50.0, &[]),
        part(Moving, "Piercing tip", [1075.0, 1290.0], 50.0, &[]),
        part(Guide, "Guide pad", [100.0, 330.0], 76.0, &[]),
        part(Guide, "Guide blade", [930.0, 1280.0], 34.0, &[1000.0, 1110.0, 1220.0]),
        part(Front, "Front blade", [1298.0, 1310.0], 12.0, &[]),
    ]
}

fn stations() -> Vec<MouthStation<'static>> {
    use VerdictMark::{NotMeasured, SetRange, SoonTooWide, StopTooTight, TooTight, Working};
    let station = |name, face, from_pivot, gap, value, mark| MouthStation {
        name,
        face,
        from_pivot,
        across: None,
        gap,
        value,
        mark,
        label: name,
        detail: value,
    };
    let front = |name, across, gap, value| MouthStation {
        across: Some(across),
        ..station(name, Face::Front, 1298.0, gap, value, Working)
    };
    let (cutting, guide) = (Face::Cutting, Face::Guide);
    vec![
        station("J1", guide, 150.0, 0.50, "0.47–0.52", SetRange),
        station("J2", guide, 280.0, 0.55, "0.52–0.57", SetRange),
        station("P1", cutting, 170.0, 0.50, "not yet", NotMeasured),
        station("P2", cutting, 290.0, 0.50, "not yet", NotMeasured),
        MouthStation {
            label: "P3, primary blades, third from pivot",
            detail: "between 0.57 and 0.62, working",
            ..station("P3", cutting, 410.0, 0.595, "0.57–0.62", Working)
        },
        station("P4", cutting, 530.0, 0.645, "0.62–0.67", Working),
        station("S1", cutting, 650.0, 1.095, "1.07–1.12", Working),
        station("S2", cutting, 770.0, 1.095, "1.07–1.12", Working),
        station("S3", cutting, 890.0, 1.145, "1.12–1.17", Working),
        station("S4", cutting, 1010.0, 1.195, "1.17–1.22", SoonTooWide),
        station("T1", cutting, 1130.0, 0.845, "0.82–0.87", Working),
        station("T2", cutting, 1250.0, 0.895, "0.87–0.92", Working),
        front("F1", 170.0, 1.595, "1.57–1.62"),
        front("F2", 100.0, 1.745, "1.72–1.77"),
        station("G1", guide, 990.0, 0.395, "0.37–0.42", SetRange),
        station("G2", guide, 1110.0, 0.145, "0.12–0.17", StopTooTight),
        station("G3", guide, 1240.0, 0.245, "0.22–0.27", TooTight),
    ]
}

pub(crate) fn drawings(ui: &mut Ui, mouth_height: f32) -> Option<usize> {
    let whole = ui.ctx().content_rect().shrink(16.0);
    let mut ui = ui.new_child(UiBuilder::new().max_rect(whole));
    let (parts, stations) = (parts(), stations());
    let view = widgets::MouthView {
        jaw: JAW,
        parts: &parts,
        stations: &stations,
        current: Some(4),
        words: widgets::MouthWords {
            title: "Mouth view",
            note: "from above into the lower jaw · gaps drawn {}× larger",
            pivot: "Pivot",
            cutting: "Cutting side",
            guide: "Guide side",
            upper: "Upper jaw",
        },
        legend: &[
            (VerdictMark::SetRange, "set range"),
            (VerdictMark::Working, "working"),
            (VerdictMark::SoonTooWide, "soon too wide"),
            (VerdictMark::TooTight, "too tight"),
            (VerdictMark::StopTooTight, "stop"),
        ],
        warning: Some(widgets::Warning {
            mark: VerdictMark::StopTooTight,
            headline: "G2 is under the stop limit 0.20",
            text: "Do not cut until the guide blade is shimmed.",
        }),
    };
    let along = Along::fit(whole.left(), whole.right(), JAW.reach);
    let tapped = view.show(&mut ui, along, mouth_height);
    ui.add_space(16.0);
    if 200.0 < ui.available_height() {
        let height = ui.available_height();
        ribbon(&mut ui, along, height);
    }
    tapped
}

fn ribbon(ui: &mut Ui, along: Along, height: f32) {
    let tip = widgets::Bands { set: [0.50, 0.75], working: [0.35, 1.40], stop: [0.20, 1.75] };
    let line = |letter, place, span, bands| widgets::RibbonLine {
        letter,
        place,
        span,
        bands,
        selected: letter == "P",
        limits: ["0.10", "0.20", "0.30", "0.50", "1.25", "1.60"],
    };
    let lines = [
        line("P", "Primary", [110.0, 588.0], BANDS),
        line("S", "Secondary", [592.0, 1070.0], BANDS),
        line("T", "Tip", [1075.0, 1290.0], tip),
    ];
    let reading = |line, from_pivot, low: f32, text| widgets::RibbonReading {
        line,
        from_pivot,
        bracket: Some((low, Some(low + 0.05))),
        hot: Some(low - 0.13),
        before: Some([low - 0.08, low - 0.03]),
        text,
        ..Default::default()
    };
    let open = |from_pivot, hot, next| widgets::RibbonReading {
        from_pivot,
        hot: Some(hot),
        before: Some([0.47, 0.52]),
        next,
        ..Default::default()
    };
    let readings = [
        open(170.0, 0.37, false),
        open(290.0, 0.35, true),
        widgets::RibbonReading { current: true, ..reading(0, 410.0, 0.57, "0.57–0.62") },
        reading(0, 530.0, 0.62, "0.62–0.67"),
        reading(1, 650.0, 1.07, "1.07–1.12"),
        reading(1, 770.0, 1.07, "1.07–1.12"),
        reading(1, 890.0, 1.12, "1.12–1.17"),
        widgets::RibbonReading {
            mark: Some(VerdictMark::SoonTooWide),
            ..reading(1, 1010.0, 1.17, "1.17–1.22")
        },
        reading(2, 1130.0, 0.82, "0.82–0.87"),
        widgets::RibbonReading {
            bracket: Some((0.87, None)),
            ..reading(2, 1250.0, 0.87, "0.87 or more")
        },
    ];
    let ribbon = widgets::GapRibbon {
        lines: &lines,
        readings: &readings,
        gap_ticks: &[
            (0.0, "0.0"),
            (0.25, ""),
            (0.5, "0.5"),
            (0.75, ""),
            (1.0, "1.0"),
            (1.5, "1.5"),
        ],
        along_ticks: &[
            (0.0, "0"),
            (200.0, "200"),
            (400.0, "400"),
            (600.0, "600"),
            (800.0, "800"),
            (1000.0, "1000"),
            (1200.0, "1200"),
        ],
        words: widgets::RibbonWords {
            title: "Gap ribbon",
            note: "cold gap at 20 °C, mm, along the cutting side",
            legend: ["goes to does not go", "session 130", "estimated hot gap"],
            stop: "stop limit",
            working: "working limit",
            set: "set range",
            next: "next",
            axis: "mm from pivot",
        },
    };
    ribbon.show(ui, along, height);
}

#[test]
fn the_mouth_at_a_desk() {
    check("mouth", [1096.0, 880.0], |ui| {
        drawings(ui, 448.0);
    });
}

#[test]
fn the_mouth_on_a_small_tablet() {
    check("mouth-narrow", [580.0, 700.0], |ui| {
        drawings(ui, 368.0);
    });
}
