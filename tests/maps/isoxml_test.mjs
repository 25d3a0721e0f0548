// Our task data seen from outside. isoxml, which was written by others from the standard's own schema,
// reads what we write, and what it writes is read by us; both are compared field by field. Its list of
// data identifiers is held against ours.
// Usage: node isoxml_test.mjs <task_data_exchange> <folder for the files>
import assert from 'node:assert/strict'
import { execFileSync } from 'node:child_process'
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import isoxml from 'isoxml'
import dictionary from 'isoxml/dist/DDEntities.js'

const { ISOXMLManager, TAGS } = isoxml
const [exchange, folder] = process.argv.slice(2)
mkdirSync(folder, { recursive: true })

/** It would have .bin small; the file systems of terminals know no small letters, nor does TASKDATA.XML. */
const CASE_OF_ENDING = /^Letter case of filename GRD00001\.bin doesn't match/

const SET_SPEED = '018C'
const SET_WORKING_HEIGHT = '003D'

async function read_by_isoxml(file) {
    const manager = new ISOXMLManager()
    await manager.parseISOXMLFile(new Uint8Array(readFileSync(join(folder, file))), 'application/zip')
    assert.deepEqual(manager.getWarnings().filter(warning => !CASE_OF_ENDING.test(warning)), [], file)
    return manager
}
const multi_polygon = geometry => (geometry.type === 'Polygon' ? [geometry.coordinates] : geometry.coordinates)
const area_of = polygons => multi_polygon(isoxml.ExtendedPolygon.toGeoJSON(polygons))
const steps_of = zone =>
    zone.attributes.ProcessDataVariable.map(({ attributes: { ProcessDataDDI, ProcessDataValue } }) => [
        ProcessDataDDI,
        ProcessDataValue
    ])

/** What the terminal is to be told of a zone of the plan: mm/s and mm. */
const values_of = ({ settings }) => [
    [SET_SPEED, Math.round(settings['driving.speed'] * 1000)],
    [SET_WORKING_HEIGHT, Math.round(settings['leaf_remover.height'] * 1000)]
]

execFileSync(exchange, ['write', folder])
const plan = JSON.parse(readFileSync(join(folder, 'plan.json')))

async function zones_we_wrote() {
    const manager = await read_by_isoxml('zones.zip')
    const root = manager.rootElement.attributes
    assert.equal(root.VersionMajor, '4')
    assert.equal(root.DataTransferOrigin, '1')
    assert.equal(root.ManagementSoftwareManufacturer, 'Beetwright')
    assert.equal(root.ManagementSoftwareVersion, '1.2.3')

    const [field] = root.Partfield
    assert.equal(field.attributes.PartfieldDesignator, plan.field)
    assert.deepEqual(area_of(field.attributes.PolygonnonTreatmentZoneonly), plan.boundary)
    // 222.6 m by 133.9 m and by 33.5 m, less a pond of 22.3 m by 20.1 m, from degrees of 111.3 km.
    assert.ok(Math.abs(field.attributes.PartfieldArea - 36_800) < 200, `${field.attributes.PartfieldArea} m2`)

    const [task] = root.Task
    assert.equal(task.attributes.TaskDesignator, plan.season)
    assert.equal(task.attributes.TaskStatus, '1')
    assert.equal(task.attributes.PartfieldIdRef.entity, field)
    assert.equal(task.attributes.DefaultTreatmentZoneCode, 2)
    assert.equal(task.attributes.PositionLostTreatmentZoneCode, 2)
    assert.equal(task.attributes.TreatmentZone.length, plan.zones.length)
    plan.zones.forEach((zone, z) => {
        const { attributes } = task.attributes.TreatmentZone[z]
        assert.equal(attributes.TreatmentZoneCode, zone.number)
        assert.deepEqual(area_of(attributes.PolygonTreatmentZoneonly), zone.area)
        assert.deepEqual(steps_of(task.attributes.TreatmentZone[z]), values_of(zone))
    })
    assert.equal(task.attributes.TreatmentZone[0].attributes.TreatmentZoneDesignator, '1 low wet ground')
    assert.equal(task.attributes.TreatmentZone[1].attributes.TreatmentZoneDesignator, '2 knoll: 60 mm share.depth')
    assert.deepEqual(
        task.attributes.CommentAllocation.map(({ attributes }) => attributes.FreeCommentText),
        ['1: 70 mm share.depth']
    )
}

async function grid_we_wrote() {
    const manager = await read_by_isoxml('grid.zip')
    const [task] = manager.rootElement.attributes.Task
    const [grid] = task.attributes.Grid
    const before = manager.getWarnings().length
    grid.verifyGridSize(manager, 2)
    assert.equal(manager.getWarnings().length, before)
    assert.equal(grid.attributes.GridType, '2')
    const [usual] = task.attributes.TreatmentZone
    assert.equal(grid.attributes.TreatmentZoneCode, usual.attributes.TreatmentZoneCode)
    assert.equal(task.attributes.DefaultTreatmentZoneCode, usual.attributes.TreatmentZoneCode)
    assert.deepEqual(steps_of(usual), values_of(plan.zones[1]))
    const cells = grid.toGeoJSON(steps_of(usual).map(([identifier]) => identifier)).features
    assert.equal(cells.length, grid.attributes.GridMaximumColumn * grid.attributes.GridMaximumRow)
    const told = { 0: 0, 1: 0 }
    for (const { properties, geometry } of cells) {
        const [[west, south], , [east, north]] = geometry.coordinates[0]
        const at = [(west + east) / 2, (south + north) / 2]
        if (at[0] > 8.202 && at[0] < 8.2025) continue // the road between the pieces
        const z = at[1] < 53.101 && at[0] < 8.2025 ? 0 : 1
        assert.deepEqual(Object.entries(properties).sort(), values_of(plan.zones[z]).sort(), `${at}`)
        ++told[z]
    }
    assert.ok(told[0] > 500 && told[1] > 500)
}

/** Little-endian numbers, one after another. */
function bytes_of(numbers) {
    const bytes = new DataView(new ArrayBuffer(numbers.reduce((sum, [size]) => sum + size, 0)))
    let at = 0
    for (const [size, value] of numbers) {
        if (size === 1) bytes.setUint8(at, value)
        else if (size === 2) bytes.setUint16(at, value, true)
        else bytes.setInt32(at, value, true)
        at += size
    }
    return new Uint8Array(bytes.buffer)
}

/** A log of a loop driven from 7 o'clock on 4 October 2031, one record of which has no fix. */
function log_numbers() {
    const day = (Date.UTC(2031, 9, 4) - Date.UTC(1980, 0, 1)) / 86_400_000
    return Array.from({ length: 200 }, (_, k) => {
        const has_fix = k !== 17
        const angle = (2 * Math.PI * k) / 200
        const values = [
            [0, 1389 + k],
            [1, 7_000_000 - 10_000 * k],
            ...(k % 50 === 0 ? [[2, (k / 50) % 2]] : []),
            [3, k]
        ]
        return [
            [4, 7 * 3_600_000 + 1000 * k],
            [2, day],
            [4, has_fix ? Math.round(531_000_000 + 10_000 * Math.sin(angle)) : 0],
            [4, has_fix ? Math.round(-82_000_000 + 15_000 * Math.cos(angle)) : 0],
            [4, 12_345 - 40 * k],
            [1, [1, 2, 4, 5][k % 4]],
            [2, 18],
            [2, 9 + (k % 5)],
            [1, 8 + (k % 7)],
            [4, 7 * 3_600_000 + 1000 * k],
            [2, day],
            [1, values.length],
            ...values.flatMap(([index, steps]) => [
                [1, index],
                [4, steps]
            ])
        ]
    }).flat()
}

/** Task data as isoxml writes it: a partfield, a task with a zone, a grid of values, and a log. */
async function written_by_isoxml(version) {
    const manager = new ISOXMLManager({ version, fmisTitle: 'outside', fmisVersion: '1' })
    const make = (tag, attributes) => manager.createEntityFromAttributes(tag, attributes)
    const square = (west, south, size) => [
        [west, south],
        [west + size, south],
        [west + size, south + size],
        [west, south + size],
        [west, south]
    ]
    const hole = square(8.2004, 53.1004, 0.0002).reverse()
    const polygons = (coordinates, type) =>
        isoxml.ExtendedPolygon.fromGeoJSON({ type: 'MultiPolygon', coordinates }, type, manager)
    const area = [[square(8.2, 53.1, 0.001), hole], [square(8.21, 53.1, 0.001)]]
    const farm = make(TAGS.Farm, { FarmDesignator: 'Mill Farm' })
    const field = make(TAGS.Partfield, {
        PartfieldDesignator: 'Große Breite', // not with &: isoxml 1.11.2 writes that as &amp;amp;
        PartfieldArea: 12_345,
        FarmIdRef: manager.registerEntity(farm),
        PolygonnonTreatmentZoneonly: polygons(area, '1')
    })
    const zone = make(TAGS.TreatmentZone, {
        TreatmentZoneCode: 7,
        TreatmentZoneDesignator: 'knoll',
        PolygonTreatmentZoneonly: polygons(area.slice(1), '2'),
        ProcessDataVariable: [
            make(TAGS.ProcessDataVariable, { ProcessDataDDI: SET_SPEED, ProcessDataValue: 1389 }),
            make(TAGS.ProcessDataVariable, { ProcessDataDDI: SET_WORKING_HEIGHT, ProcessDataValue: -1 })
        ]
    })
    const squares = [0, 1, 2].map(k => ({
        type: 'Feature',
        properties: { speed: 1000 + k, height: 90 - k },
        geometry: { type: 'Polygon', coordinates: [square(8.2 + 0.0005 * k, 53.1, 0.0005)] }
    }))
    const grid = isoxml.ExtendedGrid.fromGeoJSON(
        { type: 'FeatureCollection', features: squares },
        ['speed', 'height'],
        manager,
        7
    )
    const timelog = new ISOXMLManager({ realm: 'timelog', version })
    const header = (tag, attributes) => timelog.createEntityFromAttributes(tag, attributes)
    // What is empty in the header stands in each record; isoxml has null for a number that is empty.
    const position = { PositionStatus: '' }
    for (const name of ['PositionNorth', 'PositionEast', 'PositionUp', 'PDOP', 'HDOP']) position[name] = null
    for (const name of ['NumberOfSatellites', 'GpsUtcTime', 'GpsUtcDate']) position[name] = null
    const log = new isoxml.ExtendedTimeLog({ Filename: 'TLG00001', TimeLogType: '1' }, manager)
    log.timeLogHeader = header(TAGS.Time, {
        Start: '',
        Type: '4',
        Position: [header(TAGS.Position, position)],
        DataLogValue: ['018D', '0054', '008D', '0074'].map(ProcessDataDDI =>
            header(TAGS.DataLogValue, { ProcessDataDDI, ProcessDataValue: '', DeviceElementIdRef: { xmlId: 'DET-1' } })
        )
    })
    log.binaryData = bytes_of(log_numbers())
    manager.registerEntity(field)
    const task = make(TAGS.Task, {
        TaskDesignator: 'Lifting',
        TaskStatus: '4',
        PartfieldIdRef: manager.registerEntity(field),
        TreatmentZone: [zone],
        Grid: [grid],
        TimeLog: [log]
    })
    manager.registerEntity(task)
    Object.assign(manager.rootElement.attributes, { Farm: [farm], Partfield: [field], Task: [task] })
    const file = `outside_${version}.zip`
    writeFileSync(join(folder, file), await manager.saveISOXML())
    return file
}

/** How sure each status is, in our order: none, unknown, estimated, autonomous, differential, float, fixed. */
const KIND_OF_STATUS = { 1: 3, 2: 4, 4: 6, 5: 5 }

async function read_what_it_wrote(version) {
    const file = await written_by_isoxml(version)
    const theirs = new ISOXMLManager()
    await theirs.parseISOXMLFile(new Uint8Array(readFileSync(join(folder, file))), 'application/zip')
    const ours = JSON.parse(execFileSync(exchange, ['read', join(folder, file)]))

    const [field] = theirs.rootElement.attributes.Partfield
    assert.equal(ours.partfields.length, 1)
    assert.equal(ours.partfields[0].name, field.attributes.PartfieldDesignator)
    assert.equal(ours.partfields[0].said.farm, 'Mill Farm')
    assert.equal(ours.partfields[0].said.area, '12345 m2')
    assert.deepEqual(ours.partfields[0].area, area_of(field.attributes.PolygonnonTreatmentZoneonly))
    assert.equal(ours.partfields[0].area.length, 2)
    assert.equal(ours.partfields[0].area[0].length, 2)

    const [task] = theirs.rootElement.attributes.Task
    const [our_task] = ours.tasks
    assert.equal(our_task.name, task.attributes.TaskDesignator)
    assert.equal(our_task.partfield, field.attributes.PartfieldDesignator)

    const [zone] = task.attributes.TreatmentZone
    const [our_zone] = our_task.zones
    assert.equal(our_zone.code, zone.attributes.TreatmentZoneCode)
    assert.equal(our_zone.name, zone.attributes.TreatmentZoneDesignator)
    assert.deepEqual(our_zone.area, area_of(zone.attributes.PolygonTreatmentZoneonly))
    assert.deepEqual(
        our_zone.values,
        steps_of(zone).map(([identifier, steps]) => [parseInt(identifier, 16), steps])
    )

    const [grid] = task.attributes.Grid
    const [our_grid] = our_task.grids
    assert.equal(our_grid.south, grid.attributes.GridMinimumNorthPosition)
    assert.equal(our_grid.west, grid.attributes.GridMinimumEastPosition)
    assert.equal(our_grid.cell_north, grid.attributes.GridCellNorthSize)
    assert.equal(our_grid.cell_east, grid.attributes.GridCellEastSize)
    assert.equal(our_grid.columns, grid.attributes.GridMaximumColumn)
    assert.equal(our_grid.rows, grid.attributes.GridMaximumRow)
    assert.deepEqual(our_grid.identifiers, [0x018c, 0x003d])
    assert.deepEqual(our_grid.steps, [...new Int32Array(grid.binaryData.slice().buffer)])
    assert.deepEqual(new Set(our_grid.steps.filter((_, k) => k % 2 === 0)), new Set([1000, 1001, 1002]))

    const [log] = task.attributes.TimeLog
    const { timeLogs } = log.parseBinaryFile()
    assert.deepEqual(log.parsingErrors, [])
    const fixed = timeLogs.filter(({ isValidPosition }) => isValidPosition)
    const [our_log] = our_task.logs
    assert.equal(fixed.length, 199)
    assert.equal(our_log.fixes.length, fixed.length)
    let works = true
    fixed.forEach(({ time, position, values }, k) => {
        works = values['008D_DET-1'] === undefined ? works : values['008D_DET-1'] === 1
        assert.deepEqual(our_log.fixes[k], {
            at: time.toISOString(),
            north: position.PositionNorth,
            east: position.PositionEast,
            height: 1e-3 * position.PositionUp,
            kind: KIND_OF_STATUS[position.PositionStatus],
            satellites: position.NumberOfSatellites,
            dilution: position.HDOP,
            speed: 1e-3 * values['018D_DET-1'],
            yield: 1e-6 * values['0054_DET-1'],
            works
        })
    })
    assert.ok(our_log.notes.includes('left out for want of a position: 1 of 200 records'))
    assert.ok(our_log.notes.includes('values that are not used here: DDI 116 (total area) 200 times'))
}

/** Their list says the same unit of each identifier that we know. */
function identifiers_agree() {
    const ours = JSON.parse(readFileSync(join(folder, 'identifiers.json')))
    assert.ok(ours.length > 30)
    for (const { number, unit } of ours) {
        const theirs = dictionary.default[number]
        assert.ok(theirs, `${number} is in the standard's list`)
        const plain = theirs.unit.replace(/²/g, '2').replace(/³/g, '3').replace('n.a.', '')
        assert.equal(plain, unit, `${number} ${theirs.name}`)
        assert.equal(theirs.bitResolution, 1, `${number} ${theirs.name}`)
    }
    assert.equal(dictionary.default[parseInt(SET_SPEED, 16)].name, 'Setpoint Speed')
    assert.equal(dictionary.default[parseInt(SET_WORKING_HEIGHT, 16)].name, 'Setpoint Working Height')
}

await zones_we_wrote()
await grid_we_wrote()
await read_what_it_wrote(4)
await read_what_it_wrote(3)
identifiers_agree()
console.log('isoxml and we read each other')
