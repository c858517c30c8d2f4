"""Small invented tables, one of each kind, in the order in which they refer to each other."""

import os

from terminal import write_csv

STATIONS = 'station,name,latitude,longitude,uncertainty_m,elevation_m,feature,habitat,sensitivity,access,notes'
UNITS = ('unit,kind,label,make,model,serial,acquired,retired,retire_cause,housing,sensor,chemistry,cells_series,cells_parallel,'
         'cell_mah,sleep_ma,awake_ma,awake_s,frame_mas,flash_ws,power_fraction,capacity_gb,notes')
DEPLOYMENTS = ('deployment,station,start,end,frames_per_trigger,frame_mb,sensor_height_m,heading_deg,focal_mm,focus_m,iso,'
               'temperature_c,camera_clock_offset_s,notes')
FITTINGS = 'deployment,unit,from,to'
VISITS = 'visit,station,at,people,found,camera_clock,true_clock,frames_on_card,left,notes'
READINGS = 'visit,unit,state,volts,percent,action,notes'
SPECIES = 'scientific_name,rank,sensitivity,common_en,common_es'
FRAMES = 'frame,deployment,file,camera_time,sha256,bytes'
OBSERVATIONS = ('observation,deployment,start,end,type,scientific_name,count,sex,life_stage,behaviour,individual,identified_by,'
                'identified_at,certainty,notes')

UNIT_LOG = 'entry,unit,at,what,cause,by,notes'
STOCK = 'item,what,label,cell_size,chemistry,cell_mah,capacity_gb,pieces,place,notes'

TABLES = {
    'stations': (STATIONS, [
        ['S1', 'North saddle', '2.51234', '113.04567', '8', '310', 'trail', 'hill forest', 'medium', '"Gate" on the left, ask', ''],
        ['S2', 'Lower ford', '2.4871', '113.0312', '', '95.5', 'water', '', '', '', 'two lines\nof notes'],
        ['S3', 'Not placed yet', '', '', '', '', '', '', 'none', '', '']]),
    'species': (SPECIES, [
        ['Sus barbatus', 'species', '', 'Bearded pig', 'Cerdo barbudo'],
        ['Neofelis diardi', 'species', 'high', 'Sunda clouded leopard', '']]),
    'units': (UNITS, [
        ['C1', 'camera', 'Camera one', '', '', 'N-1', '2024-01-05', '', '', 'box', 'passive-infrared', 'lithium', '4', '2', '3000',
         '0.35', '180', '4', '300', '', '', '', ''],
        ['M1', 'card', 'Card one', '', '', '', '', '', '', '', '', '', '', '', '', '', '', '', '', '', '', '32', '']]),
    'deployments': (DEPLOYMENTS, [
        ['D1', 'S1', '2024-03-01T10:00', '', '3', '2.4', '0.45', '120', '', '', '', '27', '-12.5', ''],
        ['D2', 'S2', '2024-03-02T09:30:00+08:00', '2024-09-01T00:00:00Z', '', '', '', '', '', '', '', '', '', '']]),
    'fittings': (FITTINGS, [['D1', 'C1', '2024-03-01T10:00', ''], ['D1', 'M1', '2024-03-01T10:00', '2024-06-01T10:00']]),
    'visits': (VISITS, [
        ['V1', 'S1', '2024-04-02T11:00', 'A. Guide', 'working', '2024-04-02T11:00:13', '2024-04-02T11:00', '412', '', ''],
        ['V2', 'S2', '2024-04-02T14:00', '', 'disturbed', '', '', '', 'new strap', '']]),
    'readings': (READINGS, [['V1', 'C1', 'working', '', '71', 'none', ''], ['V1', 'M1', '', '', '', 'swapped', '']]),
    'frames': (FRAMES, [
        ['F1', 'D1', 'pictures/D1/IMG_1.JPG', '2024-03-05T22:10:01', 'a' * 64, '2400123'],
        ['F2', 'D1', 'pictures/D1/IMG_2.JPG', '2024-03-05T22:10:02.25', 'b' * 64, '2400124'],
        ['F3', 'D2', 'pictures/D2/IMG_1.JPG', '2024-03-06T06:00:00', 'c' * 64, '2400125']]),
    'observations': (OBSERVATIONS, [
        ['O1', 'D1', '2024-03-05T22:10:01', '2024-03-05T22:10:02', 'animal', 'Sus barbatus', '3', 'female', 'adult', 'feeding', '',
         'B. Guide', '2024-04-05T20:00', '0.9', ''],
        ['O2', 'D2', '2024-03-06T06:00:00', '', 'blank', '', '', '', '', '', '', '', '', '', '']]),
    'unit_log': (UNIT_LOG, [
        ['E1', 'C1', '2024-04-20T08:30', 'damage', 'moisture', 'A. Guide', 'water in the lens'],
        ['E2', 'C1', '2024-04-22T16:00:00+08:00', 'repair', '', '', ''],
        ['E3', 'M1', '2024-05-01', 'loss', 'unknown', '', '']]),
    'stock': (STOCK, [
        ['G1', 'cells', '', 'AA', 'nimh', '2000', '', '48', 'blue box', ''],
        ['G2', 'card', 'Spare cards', '', '', '', '32', '0', '', 'two lines\nof notes'],
        ['G3', 'tape', '', '', '', '', '', '3', '', '']]),
}


def write_tables(folder, tables=None):
    """{name: path} of the tables, written into @folder."""
    os.makedirs(folder, exist_ok=True)
    return {name: write_csv(os.path.join(folder, name + '.csv'), *table) for name, table in (tables or TABLES).items()}


GPX = '''<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="test" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="2.4471" lon="113.0519"><ele>122</ele><name>W1</name><cmt>by the fig</cmt></wpt>
<wpt lat="2.4502" lon="113.0498"><name>W2</name></wpt>
<rte><name>Boat way</name><rtept lat="2.44" lon="113.05"/><rtept lat="2.45" lon="113.06"/></rte>
<trk><name>Ridge trail</name><trkseg><trkpt lat="2.44" lon="113.05"/><trkpt lat="2.441" lon="113.052"/></trkseg>
<trkseg><trkpt lat="2.442" lon="113.053"/><trkpt lat="2.443" lon="113.055"/></trkseg></trk>
</gpx>
'''
