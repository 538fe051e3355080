//! A zip archive made by hand, without compression, so that tests can hold every kind of workbook (PKWARE APPNOTE 6.3.10,
//! sections 4.3.7, 4.3.12 and 4.3.16).

/// CRC-32 as in ISO 3309, bit by bit.
fn crc(bytes: &[u8]) -> u32 {
    let mut crc = u32::MAX;
    for byte in bytes {
        crc ^= u32::from(*byte);
        for _ in 0..8 {
            crc = if crc & 1 == 1 {
                (crc >> 1) ^ 0xEDB8_8320
            } else {
                crc >> 1
            };
        }
    }
    !crc
}

/// An archive of these files; `says` is the size each claims to unzip to, or its true one.
pub(super) fn zip(files: &[(&str, &str)], says: Option<u32>) -> Vec<u8> {
    let (mut out, mut directory) = (Vec::new(), Vec::new());
    for (name, text) in files {
        let at = out.len() as u32;
        let size = text.len() as u32;
        let told = says.unwrap_or(size);
        let mut common = Vec::new();
        for field in [20_u16, 0, 0, 0, 0] {
            common.extend(field.to_le_bytes());
        }
        for field in [crc(text.as_bytes()), size, told] {
            common.extend(field.to_le_bytes());
        }
        common.extend((name.len() as u16).to_le_bytes());
        common.extend(0_u16.to_le_bytes());
        out.extend(b"PK\x03\x04");
        out.extend(&common);
        out.extend(name.as_bytes());
        out.extend(text.as_bytes());
        directory.extend(b"PK\x01\x02\x14\x00");
        directory.extend(&common);
        directory.extend([0; 10]);
        directory.extend(at.to_le_bytes());
        directory.extend(name.as_bytes());
    }
    let at = out.len() as u32;
    out.extend(&directory);
    out.extend(b"PK\x05\x06\0\0\0\0");
    for _ in 0..2 {
        out.extend((files.len() as u16).to_le_bytes());
    }
    out.extend((directory.len() as u32).to_le_bytes());
    out.extend(at.to_le_bytes());
    out.extend(0_u16.to_le_bytes());
    out
}

/// An .xlsx with one sheet of these rows (ECMA-376, part 1). Style 1 is a date.
pub(super) fn xlsx(rows: &str) -> Vec<u8> {
    zip(&parts_of_xlsx(rows), None)
}

pub(super) fn parts_of_xlsx(rows: &str) -> [(&'static str, &'static str); 6] {
    // Tests may leak a few strings; it keeps the list of parts plain.
    let sheet: &'static str = Box::leak(
        format!("<?xml version=\"1.0\"?><worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>{rows}</sheetData></worksheet>")
            .into_boxed_str(),
    );
    [
        (
            "[Content_Types].xml",
            "<?xml version=\"1.0\"?><Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Override PartName=\"/xl/workbook.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/></Types>",
        ),
        (
            "_rels/.rels",
            "<?xml version=\"1.0\"?><Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"rId1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>",
        ),
        (
            "xl/workbook.xml",
            "<?xml version=\"1.0\"?><workbook xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\" xmlns:r=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships\"><sheets><sheet name=\"List\" sheetId=\"1\" r:id=\"rId1\"/></sheets></workbook>",
        ),
        (
            "xl/_rels/workbook.xml.rels",
            "<?xml version=\"1.0\"?><Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"rId1\" Type=\"http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet\" Target=\"worksheets/sheet1.xml\"/></Relationships>",
        ),
        (
            "xl/styles.xml",
            "<?xml version=\"1.0\"?><styleSheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><cellXfs count=\"2\"><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/></cellXfs></styleSheet>",
        ),
        ("xl/worksheets/sheet1.xml", sheet),
    ]
}

/// A row of text cells; one that starts with `<` stands as it is.
pub(super) fn row(number: usize, cells: &[&str]) -> String {
    let mut out = format!("<row r=\"{number}\">");
    for (i, cell) in cells.iter().enumerate() {
        let column = char::from(b'A' + i as u8);
        if cell.starts_with('<') {
            out.push_str(&cell.replace("@", &format!("{column}{number}")));
        } else if !cell.is_empty() {
            out.push_str(&format!(
                "<c r=\"{column}{number}\" t=\"inlineStr\"><is><t>{cell}</t></is></c>"
            ));
        }
    }
    out + "</row>"
}

/// An .ods with one sheet of these rows (OASIS OpenDocument 1.2, part 1).
pub(super) fn ods(rows: &str) -> Vec<u8> {
    let content = format!(
        "<?xml version=\"1.0\"?><office:document-content xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:spreadsheet><table:table table:name=\"List\">{rows}</table:table></office:spreadsheet></office:body></office:document-content>"
    );
    zip(
        &[
            ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
            ("content.xml", &content),
            (
                "META-INF/manifest.xml",
                "<?xml version=\"1.0\"?><manifest:manifest xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"/>",
            ),
        ],
        None,
    )
}
