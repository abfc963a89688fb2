BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0002');
CREATE TABLE announced (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	run_id TEXT NOT NULL, 
	press_id TEXT NOT NULL, 
	set_up_at TEXT NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_announced PRIMARY KEY (row_id), 
	CONSTRAINT ck_announced_until_after_since CHECK (until > since), 
	CONSTRAINT fk_announced_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_announced_until FOREIGN KEY(until) REFERENCES versions (version)
);
CREATE TABLE announcements (
	"plan" INTEGER NOT NULL, 
	"after" INTEGER, 
	at TEXT NOT NULL, 
	who TEXT NOT NULL, 
	CONSTRAINT pk_announcements PRIMARY KEY ("plan"), 
	CONSTRAINT fk_announcements_after FOREIGN KEY("after") REFERENCES announcements ("plan"), 
	CONSTRAINT fk_announcements_plan FOREIGN KEY("plan") REFERENCES plans (number), 
	CONSTRAINT uq_announcements_after UNIQUE ("after")
);
INSERT INTO "announcements" VALUES(1,NULL,'2026-03-02T08:05:00+00:00','Ana');
CREATE TABLE assumptions (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	text TEXT NOT NULL, 
	count BIGINT NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_assumptions PRIMARY KEY (row_id), 
	CONSTRAINT ck_assumptions_until_after_since CHECK (until > since), 
	CONSTRAINT fk_assumptions_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_assumptions_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "assumptions" VALUES(1,1,NULL,0,'default press.flash_warm_up','time its flashes take to get hot at each opening: 0 min, assumed',2,'{"counted": "presses", "where": ["auto-1", "manual"]}');
INSERT INTO "assumptions" VALUES(2,1,NULL,1,'default press.flashes','flashes that can stand on it: 1, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(3,1,NULL,2,'no_dryer','no dryer named: the belt is taken never to be short',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(4,1,NULL,3,'default press.set_up.mount','set-up time to mount and register a screen: 5 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(5,1,NULL,4,'default press.set_up.load','set-up time per head that gets an ink: 2 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(6,1,NULL,5,'default press.set_up.card','set-up time to card an ink over into another screen: 1 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(7,1,NULL,6,'default press.set_up.clean_light','ink clean-up of a light ink: 3 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(8,1,NULL,7,'default press.set_up.clean_dark','ink clean-up of a dark ink: 5 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(9,1,NULL,8,'default press.set_up.flash_move','set-up time to move a flash: 2 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(10,1,NULL,9,'default press.set_up.strike_off','strike-off, one pass through the dryer included: 6 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(11,1,NULL,10,'default press.approval','wait for a client''s approval at the press: 15 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(12,1,NULL,11,'default press.restart.break','extra time to print on after a break: 2 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(13,1,NULL,12,'default press.restart.night','extra time to print on after a night: 8 min, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(14,1,NULL,13,'default press.set_up_crew','people who set it up: print 1, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(15,1,NULL,14,'default press.run_crew','people who run it: print 1, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(16,1,NULL,15,'now_on','nothing stands on it at the planning moment, assumed',1,'{"counted": "presses", "where": ["manual"]}');
INSERT INTO "assumptions" VALUES(17,1,NULL,16,'one_setting','one setting of the dryer is taken to suit all inks: no minutes to settle are told',1,'{"counted": "dryers", "where": ["long"]}');
INSERT INTO "assumptions" VALUES(18,1,NULL,17,'default dryer.warm_up','time until it is hot after it is switched on: 0 min, assumed',1,'{"counted": "dryers", "where": ["long"]}');
INSERT INTO "assumptions" VALUES(19,1,NULL,18,'garment_kind','read as tee from the garment''s words',2,'{"counted": "garment lots", "where": ["4102 black tee", "4102 natural tee"]}');
INSERT INTO "assumptions" VALUES(20,1,NULL,19,'bare_day','a day without a clock time: there as soon as the shop opens, assumed',1,'{"counted": "dates of blanks and art", "where": ["4102 natural tee blanks"]}');
INSERT INTO "assumptions" VALUES(21,1,NULL,20,'counted','pieces taken as ordered: nothing says they were counted in',2,'{"counted": "garment lots", "where": ["4102 natural tee", "4103 Royal Hoodie"]}');
INSERT INTO "assumptions" VALUES(22,1,NULL,21,'family','plastisol ink assumed',2,'{"counted": "prints", "where": ["4102 front", "4103 left chest"]}');
INSERT INTO "assumptions" VALUES(23,1,NULL,22,'design','design named after its order and location',2,'{"counted": "prints", "where": ["4102 back", "4103 left chest"]}');
INSERT INTO "assumptions" VALUES(24,1,NULL,23,'firmness','easy assumed where nothing says how much a late day hurts',1,'{"counted": "orders", "where": ["4103"]}');
INSERT INTO "assumptions" VALUES(25,1,NULL,24,'garment_kind','read as fleece from the garment''s words',1,'{"counted": "garment lots", "where": ["4103 Royal Hoodie"]}');
INSERT INTO "assumptions" VALUES(26,1,NULL,25,'shade','read as dark from the garment''s colour',1,'{"counted": "garment lots", "where": ["4103 Royal Hoodie"]}');
INSERT INTO "assumptions" VALUES(27,1,NULL,26,'hanging_frame','23x31 frames assumed for screens that hang',1,'{"counted": "designs", "where": ["stout mug"]}');
INSERT INTO "assumptions" VALUES(28,1,NULL,27,'whole_set','the whole set hangs burned, assumed',1,'{"counted": "designs", "where": ["mill loaf"]}');
CREATE TABLE book (
	book_id INTEGER NOT NULL, 
	last_version INTEGER NOT NULL, 
	last_plan INTEGER NOT NULL, 
	last_event INTEGER NOT NULL, 
	made_at TEXT NOT NULL, 
	CONSTRAINT pk_book PRIMARY KEY (book_id), 
	CONSTRAINT ck_book_one_book CHECK (book_id = 1)
);
INSERT INTO "book" VALUES(1,2,1,1,'2026-03-02T07:05:00');
CREATE TABLE designs (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	design_id TEXT NOT NULL, 
	actual_pcs_h BIGINT, 
	actual_set_up_min BIGINT, 
	more JSON NOT NULL, 
	CONSTRAINT pk_designs PRIMARY KEY (row_id), 
	CONSTRAINT ck_designs_until_after_since CHECK (until > since), 
	CONSTRAINT fk_designs_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_designs_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "designs" VALUES(1,1,NULL,0,'stout mug',380,35,'{"inks": [{"name": "white", "family": null, "hits": 1, "mesh": null}, {"name": "gold", "family": null, "hits": 1, "mesh": null}], "width_in": 12.0, "height_in": 12.0, "frame_size": "23x31", "preferred": ["auto-1"]}');
INSERT INTO "designs" VALUES(2,1,NULL,1,'old anchor',NULL,NULL,'{"inks": [{"name": "navy", "family": null, "hits": 1, "mesh": null}], "width_in": 4.0, "height_in": 4.0, "frame_size": null, "preferred": []}');
CREATE TABLE events (
	number INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	at TEXT NOT NULL, 
	who TEXT NOT NULL, 
	noted_at TEXT NOT NULL, 
	"plan" INTEGER, 
	about TEXT NOT NULL, 
	undone INTEGER, 
	told JSON NOT NULL, 
	CONSTRAINT pk_events PRIMARY KEY (number), 
	CONSTRAINT fk_events_plan FOREIGN KEY("plan") REFERENCES plans (number), 
	CONSTRAINT fk_events_undone FOREIGN KEY(undone) REFERENCES events (number)
);
INSERT INTO "events" VALUES(1,'done','2026-03-02T09:00:00','Ben','2026-03-02T09:01:00+00:00',1,'4102 back dark',NULL,'{"run_id": "4102 back dark", "pieces": 144}');
CREATE TABLE files (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	content BLOB NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_files PRIMARY KEY (row_id), 
	CONSTRAINT ck_files_until_after_since CHECK (until > since), 
	CONSTRAINT fk_files_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_files_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "files" VALUES(1,1,2,0,'orders.csv',X'6F726465720A','{}');
INSERT INTO "files" VALUES(2,2,NULL,0,'orders.csv',X'6F726465720A343130320A','{}');
CREATE TABLE frames (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	size TEXT NOT NULL, 
	mesh BIGINT NOT NULL, 
	count BIGINT NOT NULL, 
	coated BIGINT NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_frames PRIMARY KEY (row_id), 
	CONSTRAINT ck_frames_until_after_since CHECK (until > since), 
	CONSTRAINT fk_frames_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_frames_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "frames" VALUES(1,1,NULL,0,'23x31',156,40,12,'{}');
INSERT INTO "frames" VALUES(2,1,NULL,1,'23x31',230,30,8,'{}');
CREATE TABLE imprints (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	order_id TEXT NOT NULL, 
	location TEXT NOT NULL, 
	design_id TEXT NOT NULL, 
	art_at TEXT, 
	more JSON NOT NULL, 
	CONSTRAINT pk_imprints PRIMARY KEY (row_id), 
	CONSTRAINT ck_imprints_until_after_since CHECK (until > since), 
	CONSTRAINT fk_imprints_order_id FOREIGN KEY(order_id) REFERENCES order_names (order_id), 
	CONSTRAINT fk_imprints_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_imprints_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "imprints" VALUES(1,1,NULL,0,'4102','front','stout mug',NULL,'{"inks": [{"name": "white", "family": null, "hits": 1, "mesh": 156}, {"name": "gold", "family": null, "hits": 1, "mesh": 230}], "lot_ids": ["4102 black tee", "4102 natural tee"], "is_waiting_for_art": false, "with_base": false, "width_in": 12.0, "height_in": 11.811024, "frame_size": "23x31", "pallet": "adult", "presses": ["auto-1", "manual"], "preferred": ["auto-1"], "never": [], "stated_pcs_h": 300, "stated_run_min": null, "stated_set_up_min": 30, "print_after": [], "between_min": 15, "approval_at_press": true, "split": [], "split_sets": 1, "lock_press": "auto-1", "lock_at": "2026-03-03T09:00:00+00:00", "not_before": null, "note": "race day", "mock_up": "", "coverage_pct": null, "source_row": 2}');
INSERT INTO "imprints" VALUES(2,1,NULL,1,'4102','back','4102 back','2026-03-03T11:00:00+00:00','{"inks": [{"name": "white", "family": "water-based", "hits": 2, "mesh": null}], "lot_ids": ["4102 black tee"], "is_waiting_for_art": false, "with_base": null, "width_in": null, "height_in": null, "frame_size": null, "pallet": null, "presses": [], "preferred": [], "never": ["manual"], "stated_pcs_h": null, "stated_run_min": 55, "stated_set_up_min": null, "print_after": ["front"], "between_min": null, "approval_at_press": false, "split": [], "split_sets": 1, "lock_press": null, "lock_at": null, "not_before": null, "note": "sponsors", "mock_up": "", "coverage_pct": null, "source_row": 4}');
INSERT INTO "imprints" VALUES(3,2,NULL,2,'4103','left chest','4103 left chest',NULL,'{"inks": [{"name": "white base", "family": null, "hits": 1, "mesh": null}, {"name": "red", "family": null, "hits": 1, "mesh": null}], "lot_ids": ["4103 Royal Hoodie"], "is_waiting_for_art": true, "with_base": null, "width_in": null, "height_in": null, "frame_size": null, "pallet": null, "presses": [], "preferred": [], "never": [], "stated_pcs_h": null, "stated_run_min": null, "stated_set_up_min": null, "print_after": [], "between_min": null, "approval_at_press": false, "split": [], "split_sets": 1, "lock_press": null, "lock_at": null, "not_before": null, "note": "", "mock_up": "", "coverage_pct": null, "source_row": 5}');
CREATE TABLE lots (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	lot_id TEXT NOT NULL, 
	order_id TEXT NOT NULL, 
	garment TEXT NOT NULL, 
	shade TEXT NOT NULL, 
	pieces BIGINT NOT NULL, 
	blanks_at TEXT, 
	more JSON NOT NULL, 
	CONSTRAINT pk_lots PRIMARY KEY (row_id), 
	CONSTRAINT ck_lots_until_after_since CHECK (until > since), 
	CONSTRAINT fk_lots_order_id FOREIGN KEY(order_id) REFERENCES order_names (order_id), 
	CONSTRAINT fk_lots_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_lots_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "lots" VALUES(1,1,NULL,0,'4102 black tee','4102','black tee','dark',144,NULL,'{"kind": "tee", "is_counted": true, "from_client": false, "is_waiting": false, "sizes": "S 20, M 60, L 64", "share": "", "source_row": 2}');
INSERT INTO "lots" VALUES(2,1,NULL,1,'4102 natural tee','4102','natural tee','light',1200,'2026-03-04T00:00:00+00:00','{"kind": "tee", "is_counted": false, "from_client": true, "is_waiting": false, "sizes": "", "share": "", "source_row": 3}');
INSERT INTO "lots" VALUES(3,2,NULL,2,'4103 Royal Hoodie','4103','Royal Hoodie','dark',40,NULL,'{"kind": "fleece", "is_counted": false, "from_client": false, "is_waiting": true, "sizes": "", "share": "", "source_row": 5}');
CREATE TABLE order_names (
	order_id TEXT NOT NULL, 
	CONSTRAINT pk_order_names PRIMARY KEY (order_id)
);
INSERT INTO "order_names" VALUES('4102');
INSERT INTO "order_names" VALUES('4103');
CREATE TABLE orders (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	order_id TEXT NOT NULL, 
	client TEXT NOT NULL, 
	due_at TEXT NOT NULL, 
	due_kind TEXT NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_orders PRIMARY KEY (row_id), 
	CONSTRAINT ck_orders_until_after_since CHECK (until > since), 
	CONSTRAINT fk_orders_order_id FOREIGN KEY(order_id) REFERENCES order_names (order_id), 
	CONSTRAINT fk_orders_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_orders_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "orders" VALUES(1,1,NULL,0,'4102','Fennick Street Brewery','2026-03-05','leaves','{"firmness": "firm", "carrier": "collected", "late_cents": 15000, "finish_each_s": 20.0, "finish_crew": null, "before": [], "after": [], "note": "race day; sponsors", "untold": [], "source_row": 2}');
INSERT INTO "orders" VALUES(2,2,NULL,1,'4103','Low Ford Elementary','2026-03-09','in_hands','{"firmness": null, "carrier": "Parcel Run", "late_cents": null, "finish_each_s": null, "finish_crew": null, "before": [], "after": [], "note": "", "untold": [], "source_row": 5}');
CREATE TABLE "plans" (
	number INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	last_event INTEGER NOT NULL, 
	made_at TEXT NOT NULL, 
	made_by TEXT NOT NULL, 
	cost_cents BIGINT NOT NULL, 
	"plan" BLOB NOT NULL, 
	inputs BLOB NOT NULL, 
	"after" INTEGER, 
	CONSTRAINT pk_plans PRIMARY KEY (number), 
	CONSTRAINT fk_plans_version FOREIGN KEY(version) REFERENCES versions (version), 
	CONSTRAINT fk_plans_after FOREIGN KEY("after") REFERENCES plans (number)
);
INSERT INTO "plans" VALUES(1,2,0,'2026-03-02T08:00:00+00:00','Ana',12300,X'789CAB562A2ACD2B56B252888ED55150CA2F4A492D82F06A0170190848',X'789CCD5B4B8FDB3812FE2B842F7BD8EE5E3D2CB73B7B1B20833964804126730A1A022DD196D0B26848549C9EA0FFFB56151F2265D9ED6493608020318B94582C7E55F5B1C47C59F4953C2CDEB02F8B96EF05FC58FCC6BB8D1C3AF65E1ED91F5DDDAA7E71C3167FCB967ADF0E9D3C88FFBCABFB8D6CB1E3D0F036DF76728FBD4994AC6EA3F4364A3E44F76FA208FEFC9BFEC691257FEE735E095EC2D038024905F3F4D0F8F8657114E20907600BBAE21B96DCB0F4862D1F611CBE3EDFD72D742E137C5049D37C586173D309FE448F7EBCC7FEFB2C7A7C7CC1270F9DE87B61E6A0465EE3F40B3E28791BA35A76DDBFD43BF6B6DE550A854F75EB86EDB9AA0B14A2EAF8AA35AAD4F0BECA61F1053D5CB78C335A9AEDA349610D8B42CA262FE5B1CDCDD25537881B7CA4149F731C95DE65D0EE55279F04099677B8AA46F2D234B17F689D20A3FEFE58B73B6A27D4EE86362F3A71CC0F8542D3D018C5952841D2E715C8DAA16940BAE79FF3635DAA2A2723C62B7A1EA595400B18F1C3DD6A9D45E903ED005829EFEBBFB52D1749FA3925EB25D9E774B52053F3A6114A77F37268C88E7D23C42741FD5BBEAF9BDA3C0F86EB55DDCB06071D41C7EE76C37B41E62BEBBEA878B7D38F95DDB3E8CCA635B2DD2D7E086E345A7AA1F2417BC35E0EADB2CFDACDD0CD14379577B619D356F083D72C1A014ED19029B53471D292774F46B87256B35A3960EDE527E14D07D8A8011B72BB35C2FB1790F2C3A1939F7863E7201008D8F24ED11A6879DE5B5A4FA1387A710B26D490F7808B80C38389E3C7470F51D3BE1BD8C182ABA272235B79CC654BB396A2AF77ADD9B15EC941B1FD40DB56B7DAD88B63552B81929D6C4A0F3CE471049D97D1C5C07D46E46AD991777BD45B2F0557123AF79EB7036F7CE71E25D6B3478975EBE5A95BC32E74E0D846BBC0B5E339D7DEF2A69FFA7614FA763AF5ED28F4EDE5C4B7D339DF8EA319E75E65A7AEED39BCEFDAD69AA1574FBC78EAB4136F34EFB0BE689A675C280B5D28B9E842E655A75E94CE795136F5A2313C7B5E94CC79D16AC68BE2EC821725132F5AFF1F4E14B84D00EF6B20EF36C3C4C1B93069C18F6D46030CDC11358D68772E012411A16C231AE5A327D589E15083AB9B91F71ABEBC1546B0BEFBD64C9E66AF47E4C9B24182BBC7B79030EC962C23B3A8097AD0374709BD6D34EF8877210F8D30FC00AC295B17433AC57D2BFE6E059D6C6C16339B899E68D2950D43260F6A96F1F863B8CE0A533C101EC375885F81797482B64C2CA32C6D5B90AA75B4F4975A7F92FE424D73669936E62F7A00B46889181E78F174BA727FC566437CF54CBAA5B7E49D24F2F8E575134DEDB30EEDB3CC661034BADEA8B4763EF1F920FBA113F9D0D6CAB235304C6E3B4CC4A1A68B23C4C58E8823C86C5611F201F030DB26BDF841E48283E798C0A20339984BE797DEA6ECBA6C2028B97016117801CEDE4A1F2227357E6B26CAACD89B48B34192BA89E23545355E3E07CE13AF3567281A5EEFFD09D7B1DF11CC799F793DDEB49A949662CB2181E7945A104D8E296E860E02A168C9D40F59342A84C93350A895CA48EDF8E4C5A62B03104C5AC1EBA1A7A2F0BDA2C543EAB11B81961074E64808FBE71E4DD2C87B340D1E5D13967009D4FC38A1394063186F8B4A52841DF51C8932BD5CE30E006BCC671903A9759E37CDBD8FD69910137B6D0A3C6F9CCE0079BD619092B7E10C67147C3474A396AD1B0609BCAB5D02B2D1E30FDE15A261EF073A1D5E0C75871A7CC105778D71D5F1B6AF556E1E4AB40F37E48F3636549C98E2C24603DDB4312E8E3ED09133387BC29226A3E29951C7EAD918BF78BA551CA8E26E4196B3538EA47166E268F9214E5F9D18476567266EC5916D048770BBEB17B47224A0AADE9B040546095FE534F133840B88714CF887F05D08E749E06151742951B9D4A07B5C1EC4B4A043AA4F0AC78D0F8E746A685BD1E8C36AE6322F36571440C3986753360663CC0F29C5C5BDEC55EEBD88D2F88D57A9989C1BBDA17AE1E3A4B10EBEE1ACC4F4AE99532757209CEE00B36930EB51CEFCF44C56DBCB563C5316833776A22D68A7DEFEF57E417449C124355019BB0B69A477817A5AD9ED817FBA1D4AA2CCF509DE3FBB9EA57EA818FA0A1CD189D781D40FA4662F31B18EA1541F1E881B5BD96A146D2149BA0325465D388BB73A897CB154B73F74FABC13DD251A6040F43D6184D9A63FC81A16454F6BE9CA4981C3F74A0B532744DB932C1EB981FF78328ABD4C04CE7AC8316BE322BD57A2D82C83680150D6A7DE7F1FCE02D89E8AD45152F0C9DDD1BFEE73F57C10EE7CF732A6396D15F287E7131FC00D6FC1C9B003B7513B3A9C7C81F2D30186620D6099E95531750447B50929475C134A232BD1C766ACD73851211BBDEC8456D91F38C0599F11350DD80181864D363248204AE0148001CA1D743430459A1B08C124DC429B14B9D7ED67C84548FB1E326A6E3866A575F6E825015C0AE8D288426967D498F08B4CDA05B53C2833E913EEB66E6B5810110A6208BEB4E13B57B720CF002FDDC8CF5E7D6623D4714446F66249B97726D46D8F0F1269B729D3CCE49DD4B48BEB5E6CE089FC5B58FC84A5CE9E734A0956819C0F8BDF88ADEC4410E7930FF149AE42D69C3F8983F23D9648CB01886747C0B4C476F1D79FC4DA0DF1792794D267C102F30B5AC5951574F5417B595F89B13415452F6854D9952EE5D36F4327967194D01B2131107F5AFC2ADA16123CFB53C1CB14FB050C2B3A72827210D3A49859B92DCF4084F824FAA91BE1EFC505D451C8747134D3E1728A2C73D80D37DCA420677C623844956D034829590F18BC60B0F1FF6510B6DA5E76A4259046AC6599B13DC004726E278F86BB9E182B0D8DF54E1ED9AF3084BD6D04FA2B3F6BA987A9A56A88EFBC2DA7B6B23975B454C8CC0253D952C3C452A1F8AB2DF58A5D32427E23958113FCF2C0C428C7321DAE66A166421B8A82B1D630A6D957BC247528E412ED14E650B434E19D38BFF06AF3E4BE6E776C55CFE410DA10630578F8C86B8544711C670B6A8B3FE980F73B43977FC7564BA34EE7AC33839389155AAE868E3757DA6132FA9C251AFB9963344542AE12D8C22E273486B1906F0B9FDB9E92EACB26BA6C92F4D424297B2F9F6189BF4959D67336492736990EB7467159EE024296571AE55A8418E35DB97AED20F5FEA0BFC29D8DB98D2CE86446ABEAA4AED5BC5E86F788B4ADC73B26638BBB3A7FC437FEF93AE0E054C1BFEA49389E5A8777878B53473F01FDA3A169F336CD2108E5BA526BF7E0582B479E46D9C843342F0A18487CB78E615EFA00E04AE20BBF4430FD3E71137C5AF4BE269A13A229886D059C05CAC5E484D502DB72C17252C44FFDCA3E968E831392911B1AEEE77CA25541140E19111D765CA91B4B439DCE13169287A6564E276CE02C760B01614FEE096FB5249FC480F443F4308D0158D07109C3AC659A4FC97A922A02D61B26F4C41AE1D5E47AE2151B735C0B9C4283CFF45CE314D3036735960D0DC6DD71F102C80340FB668BE3F3A1F3159C1BCB9C7EF8B9F8D167943978DBF688ED13240708F6F13EFFADF904CA597606C86EEE00CA26A29D22DA0C9FC3B4CB32D783DABC6D04F488D2B3C8F5F9DFD72377799616FAC86DC456B1A212FD6950A76418F69F413123985C15A54F8A2C9DB832BE9FC3FE24615F1DCF4D60FA47C0FC2BE07D2152CF03FC9F88EC6F43B4E62B1AA3F6B3E48F61212728BD9E863898BEC209B4E80C1DE08582A837266D3AE21B61989CB3B344E0B4241F7E45383510151BBF7991CB93352E4F9768A117AE2F94CE63DA771D73F54AEE0C04BF86B79E92F1D95B5BF47D1E1CCCCFA2C96D72FF215EBE49B2208B6A369F63A45CD86B517A09281AEFC350646A5BA0FAC5180278DF0FFB83FBEEF105FCC0A8A72B808CD4BB0B3ED253315A7C26CDB078CF607F98B939C2147F124C49B6138A555231AE189EB7993C881602E01B1631D0E886D1C43AF6DA4F5289FD4DEAB9E885DB5C097D169F61A284B30B5AEB37587D9D9A152856F09681A1DB92C9161641109BD12BBE42AF596D5A99BB6B09568156EAAB0A0C515F421AA8207D0950B9D6B66B19456534E146B01E9C457D175D42CB6880DCD115165F3B90DF0E0746BB0A1A503F4303756257F78A6E0BE9EA1984C3B31BF97D95C47B35E7743C8046F82155EF2760AE076D19841640D34F520FEFF95C3021761B9D185DB782E428412061E33B67CBF867293BDE39F27546E5A80B35975BD8641AA20D99FE54DD6C583CAF1A8ED09AFD2C048EB7AD2EFACA2701DAD1D89F87BEF1CE57A01A496F417A03A10DDC04F40017E9E4B0AB28E2E81054B74533941885563F5A5D4BF67C2D911333206860355D69FA1778AF1987790315A5A7F178FFA3153457E2EEE8CB85AF25FCD371B7CB446E315D10BF05CD69FC4FD86FAB5F3BF5DD57F4A3F16FD8FAE7E05117D13DEDF4FD3376AC2483119064D9707863B4FCCED976622F7B2D715E19E8A68CFF433431D71E83ACAFAA1A3F4522DBE835DD70106F809561E75E624DF7FBAA02DE8F8496EAB39E3E18148C1883AA17122C0B012CF5032AD934186CC10781B900860685EC897653812D7987B06B2E296BAE7106BAD215CEF9EDA3E177E7A826BCB56ED078A028D14B82B96EF747BCC82990CD5DA299DFA69EFDD04CE5754F2BBC1400B360E98B61D19C6C6906433C3BC2C1A0BF4072CD48469F89021DAEA91D071A6EF0DBB829345AED305B3E33AC31E0D114E3ACC4F781258979C2E681EABDC478D193E6F8DF6588ABF757D98E231A0040FAC3003145AE09EB64219EDA66F0447BFB56DF5DE96063F008FAD1190BB395F326FE4C5AC30A7129E61500D76F37F8E40BD34C7D27D0DA1C557DA5ED1509627CD79C72EC7F419A68E24E8CD33AD8D46DF084ED6BA025FA7CE1FCC3588F76C89D4BBF412B5B4FBEAC94FB4EEBE729DE3F5B7B307A6BB88F953CB2FD002745209F002B026E3574AABF803FF3B57EAA66FA95BEAB3F955DE5BEF157A0E92272741D604619A2B733AA98AB303F42978AB73B2A4ED2A5564F272A08317D7BD2ED1D323673D7581FBBF0F14B41C214CC0295C65A59A80AE4E686325610F92B4ADA0DE52C9AAE67FAAEEA55416A6EFEF17AA8B9A052EF045DCF5A14CB651967D93A8E36F79B345AAEF97293459B322D96D12A1559C2E31272D5FA41709EC5691189A5C8EE8BE5C3BA4844596E162FFF03ACCF931A',NULL);
CREATE TABLE progress (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	order_id TEXT NOT NULL, 
	location TEXT NOT NULL, 
	press_id TEXT NOT NULL, 
	started_at TEXT NOT NULL, 
	pieces_left BIGINT NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_progress PRIMARY KEY (row_id), 
	CONSTRAINT ck_progress_until_after_since CHECK (until > since), 
	CONSTRAINT fk_progress_order_id FOREIGN KEY(order_id) REFERENCES order_names (order_id), 
	CONSTRAINT fk_progress_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_progress_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "progress" VALUES(1,1,NULL,0,'4102','front','auto-1','2026-02-27T14:25:00+00:00',90,'{"shade": "dark", "set_up_left_min": 10}');
CREATE TABLE screen_sets (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	design_id TEXT NOT NULL, 
	to_reclaim BOOLEAN NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_screen_sets PRIMARY KEY (row_id), 
	CONSTRAINT ck_screen_sets_until_after_since CHECK (until > since), 
	CONSTRAINT fk_screen_sets_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_screen_sets_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "screen_sets" VALUES(1,1,2,0,'old anchor',0,'{"frames": [["23x31", 230, 1]]}');
INSERT INTO "screen_sets" VALUES(2,1,2,1,'stout mug',1,'{"frames": [["23x31", 156, 2], ["23x31", 230, 1]]}');
INSERT INTO "screen_sets" VALUES(3,1,NULL,2,'mill loaf',0,'{"frames": []}');
INSERT INTO "screen_sets" VALUES(4,2,NULL,0,'old anchor',0,'{"frames": [["23x31", 230, 1]]}');
INSERT INTO "screen_sets" VALUES(5,2,NULL,1,'stout mug',1,'{"frames": [["23x31", 156, 2], ["23x31", 230, 1]]}');
CREATE TABLE shops (
	row_id INTEGER NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	place INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	zone TEXT NOT NULL, 
	plan_from TEXT NOT NULL, 
	more JSON NOT NULL, 
	CONSTRAINT pk_shops PRIMARY KEY (row_id), 
	CONSTRAINT ck_shops_until_after_since CHECK (until > since), 
	CONSTRAINT fk_shops_since FOREIGN KEY(since) REFERENCES versions (version), 
	CONSTRAINT fk_shops_until FOREIGN KEY(until) REFERENCES versions (version)
);
INSERT INTO "shops" VALUES(1,1,2,0,'Harbour Row Prints','Europe/Lisbon','2026-03-02T07:00:00+00:00','{"days_ahead": 10, "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 420, "to_min": 960, "breaks": [[720, 750]]}], "presses": [{"press_id": "auto-1", "name": "Big Eight", "kind": "automatic", "heads": 8, "flash_place": "in a head", "flashes": 2, "cool_down_head": true, "index_s": 3.5, "stroke_s": 4.0, "load_s": 4.5, "unload_s": 5.0, "swing_s": 2.0, "run_crew_pct": 90, "stated_pcs_h": null, "max_width_in": 16.0, "max_height_in": 19.685039, "frame_sizes": ["23x31", "25x36"], "pallets": ["adult", "sleeve"], "families": ["plastisol", "water-based", "discharge"], "dryer_id": "long", "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 420, "to_min": 960, "breaks": []}], "set_up": {"mount_min": 4, "load_min": 3, "card_min": 1, "swap_min": 1, "clean_light_min": 2, "clean_dark_min": 6, "pallet_min": 9, "flash_move_min": 3, "strike_off_min": 7}, "approval_min": 20, "restart": {"break_min": 3, "night_min": 10}, "set_up_crew": [["print", 1]], "run_crew": [["print", 1], ["catch", 1]], "now_on": {"design_id": "stout mug", "inks": ["white", "gold"], "pallet": "adult"}, "flash_pool": null, "flash_warm_up_min": 0}, {"press_id": "manual", "name": "manual", "kind": "manual", "heads": 4, "flash_place": "over a pallet", "flashes": 1, "cool_down_head": false, "index_s": 3.0, "stroke_s": 3.0, "load_s": 4.0, "unload_s": 4.0, "swing_s": 3.0, "run_crew_pct": 100, "stated_pcs_h": 65, "max_width_in": null, "max_height_in": null, "frame_sizes": [], "pallets": [], "families": [], "dryer_id": null, "hours": null, "set_up": {"mount_min": 5, "load_min": 2, "card_min": 1, "swap_min": null, "clean_light_min": 3, "clean_dark_min": 5, "pallet_min": 8, "flash_move_min": 2, "strike_off_min": 6}, "approval_min": 15, "restart": {"break_min": 2, "night_min": 8}, "set_up_crew": [["print", 1]], "run_crew": [["print", 1]], "now_on": null, "flash_pool": null, "flash_warm_up_min": 0}], "dryers": [{"dryer_id": "long", "name": "long dryer", "heated_length_in": 120.0, "belt_width_in": 36.0, "pitch_in": 17.0, "lane_in": 18.0, "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 435, "to_min": 960, "breaks": []}], "warm_up_min": 0, "off_after_min": 240, "heat_min": null, "cool_min": null}], "flash_pools": [], "people": [{"person_id": "marta", "name": "Marta", "roles": ["print", "stage"], "press_ids": ["auto-1"], "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 420, "to_min": 960, "breaks": [[690, 720]]}], "days_off": ["2026-03-05", "2026-03-06"]}, {"person_id": "ivo", "name": "ivo", "roles": ["print", "catch", "screens", "pack"], "press_ids": [], "hours": null, "days_off": []}], "screen_room": {"hours": [{"weekdays": [0, 1, 2, 3], "from_min": 480, "to_min": 945, "breaks": []}], "crew": [["screens", 1]], "exposure_units": 2, "per_exposure": 3, "expose_min": 2.5, "wash_out_min": 4.0, "dry_min": 40, "tape_each_min": 1.0, "rack_places": 20, "idle_ok_min": 50, "coat_from_min": 900, "coat_length_min": 45, "coat_each_min": 2.0, "coat_places": 18, "ready_after_min": 180, "reclaim_from_min": 810, "reclaim_length_min": 75, "reclaim_each_min": 5.0, "default_frame": "23x31", "burn_cents": 950, "ready_ahead_min": 180, "not_ahead_cents": 2}, "frames": [], "burned": [], "stations": [], "carriers": [{"name": "Parcel Run", "weekdays": [0, 1, 2, 3, 4], "pick_up_min": 900, "transit_days": 2}], "closures": [{"what": "", "from_at": "2026-03-10T00:00:00+00:00", "to_at": "2026-03-11T00:00:00+00:00", "why": "stock-taking"}, {"what": "manual", "from_at": "2026-03-04T13:00:00+00:00", "to_at": "2026-03-04T15:00:00+00:00", "why": "new bearings"}], "overtime": [{"day": "2026-03-04", "from_min": 960, "to_min": 1140, "price_cents": 18000, "press_ids": ["auto-1"], "person_ids": ["marta", "ivo"]}], "families": [{"name": "plastisol", "tunnel_s": 55, "flash_s": 6.5, "idle_ok_min": null, "cure_f": 320, "most_tunnel_s": null}, {"name": "water-based", "tunnel_s": 140, "flash_s": 11.0, "idle_ok_min": 15, "cure_f": 320, "most_tunnel_s": null}], "dark_inks": ["black", "navy"], "money": {"currency": "EUR", "late_firm_cents": 30000, "late_normal_cents": 12050, "late_easy_cents": 4000, "cushion_cents": 800, "cushion_min": 180, "person_hour_cents": 2100, "move_cents": 600, "move_free_min": 20}, "chances": {"set_up_spread": 0.2, "print_spread": 0.08, "spoil_chance": 0.06, "spoil_least": 0.03, "spoil_most": 0.1, "screen_chance": 0.02, "screen_min": 75, "stop_per_hour": 0.03, "stop_min": 25, "blanks_chance": 0.1, "art_chance": 0.1, "two_days_in": 4, "is_typed": false}, "defaults": {"family": "plastisol", "firmness": "easy", "white_on_dark": "same screen twice", "mesh_base": 150, "mesh_white": 160, "mesh_colour": 225, "spare_pct": 2.0, "garment_pct": [["tee", 100], ["long sleeve", 90], ["fleece", 70], ["youth", 95], ["bag", 85]], "carrier": "collected", "print_width_in": 11.0, "print_height_in": 13.0, "finish_each_s": 9.0, "finish_lag_min": 10, "last_box_min": 4, "between_min": 5}, "stage_min": 8, "stage_crew": [["stage", 1]], "finish_crew": [["pack", 1]], "packing_hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 480, "to_min": 960, "breaks": []}], "dont_touch_before": "2026-03-02T10:00:00+00:00", "room_kept_free_min": 30, "paper": {"units": "US", "size": "Letter", "coverage_pct": 100.0, "screen_sheet_min": 900}}');
INSERT INTO "shops" VALUES(2,2,NULL,0,'Harbour Row Prints','Europe/Lisbon','2026-03-02T07:00:00+00:00','{"days_ahead": 10, "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 420, "to_min": 960, "breaks": [[720, 750]]}], "presses": [{"press_id": "auto-1", "name": "Big Eight", "kind": "automatic", "heads": 8, "flash_place": "in a head", "flashes": 2, "cool_down_head": true, "index_s": 3.5, "stroke_s": 4.0, "load_s": 4.5, "unload_s": 5.0, "swing_s": 2.0, "run_crew_pct": 90, "stated_pcs_h": null, "max_width_in": 16.0, "max_height_in": 19.685039, "frame_sizes": ["23x31", "25x36"], "pallets": ["adult", "sleeve"], "families": ["plastisol", "water-based", "discharge"], "dryer_id": "long", "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 420, "to_min": 960, "breaks": []}], "set_up": {"mount_min": 4, "load_min": 3, "card_min": 1, "swap_min": 1, "clean_light_min": 2, "clean_dark_min": 6, "pallet_min": 9, "flash_move_min": 3, "strike_off_min": 7}, "approval_min": 20, "restart": {"break_min": 3, "night_min": 10}, "set_up_crew": [["print", 1]], "run_crew": [["print", 1], ["catch", 1]], "now_on": {"design_id": "stout mug", "inks": ["white", "gold"], "pallet": "adult"}, "flash_pool": null, "flash_warm_up_min": 0}, {"press_id": "manual", "name": "manual", "kind": "manual", "heads": 4, "flash_place": "over a pallet", "flashes": 1, "cool_down_head": false, "index_s": 3.0, "stroke_s": 3.0, "load_s": 4.0, "unload_s": 4.0, "swing_s": 3.0, "run_crew_pct": 100, "stated_pcs_h": 65, "max_width_in": null, "max_height_in": null, "frame_sizes": [], "pallets": [], "families": [], "dryer_id": null, "hours": null, "set_up": {"mount_min": 5, "load_min": 2, "card_min": 1, "swap_min": null, "clean_light_min": 3, "clean_dark_min": 5, "pallet_min": 8, "flash_move_min": 2, "strike_off_min": 6}, "approval_min": 15, "restart": {"break_min": 2, "night_min": 8}, "set_up_crew": [["print", 1]], "run_crew": [["print", 1]], "now_on": null, "flash_pool": null, "flash_warm_up_min": 0}], "dryers": [{"dryer_id": "long", "name": "long dryer", "heated_length_in": 120.0, "belt_width_in": 36.0, "pitch_in": 17.0, "lane_in": 18.0, "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 435, "to_min": 960, "breaks": []}], "warm_up_min": 0, "off_after_min": 240, "heat_min": null, "cool_min": null}], "flash_pools": [], "people": [{"person_id": "marta", "name": "Marta", "roles": ["print", "stage"], "press_ids": ["auto-1"], "hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 420, "to_min": 960, "breaks": [[690, 720]]}], "days_off": ["2026-03-05", "2026-03-06"]}, {"person_id": "ivo", "name": "ivo", "roles": ["print", "catch", "screens", "pack"], "press_ids": [], "hours": null, "days_off": []}], "screen_room": {"hours": [{"weekdays": [0, 1, 2, 3], "from_min": 480, "to_min": 945, "breaks": []}], "crew": [["screens", 1]], "exposure_units": 2, "per_exposure": 3, "expose_min": 2.5, "wash_out_min": 4.0, "dry_min": 40, "tape_each_min": 1.0, "rack_places": 20, "idle_ok_min": 50, "coat_from_min": 900, "coat_length_min": 45, "coat_each_min": 2.0, "coat_places": 18, "ready_after_min": 180, "reclaim_from_min": 810, "reclaim_length_min": 75, "reclaim_each_min": 5.0, "default_frame": "23x31", "burn_cents": 950, "ready_ahead_min": 180, "not_ahead_cents": 2}, "frames": [], "burned": [], "stations": [], "carriers": [{"name": "Parcel Run", "weekdays": [0, 1, 2, 3, 4], "pick_up_min": 900, "transit_days": 2}], "closures": [{"what": "", "from_at": "2026-03-10T00:00:00+00:00", "to_at": "2026-03-11T00:00:00+00:00", "why": "stock-taking"}, {"what": "manual", "from_at": "2026-03-04T13:00:00+00:00", "to_at": "2026-03-04T15:00:00+00:00", "why": "new bearings"}], "overtime": [{"day": "2026-03-04", "from_min": 960, "to_min": 1140, "price_cents": 18000, "press_ids": ["auto-1"], "person_ids": ["marta", "ivo"]}], "families": [{"name": "plastisol", "tunnel_s": 55, "flash_s": 6.5, "idle_ok_min": null, "cure_f": 320, "most_tunnel_s": null}, {"name": "water-based", "tunnel_s": 140, "flash_s": 11.0, "idle_ok_min": 15, "cure_f": 320, "most_tunnel_s": null}], "dark_inks": ["black", "navy"], "money": {"currency": "EUR", "late_firm_cents": 30000, "late_normal_cents": 12050, "late_easy_cents": 4000, "cushion_cents": 800, "cushion_min": 180, "person_hour_cents": 2100, "move_cents": 600, "move_free_min": 20}, "chances": {"set_up_spread": 0.2, "print_spread": 0.08, "spoil_chance": 0.06, "spoil_least": 0.03, "spoil_most": 0.1, "screen_chance": 0.02, "screen_min": 75, "stop_per_hour": 0.03, "stop_min": 25, "blanks_chance": 0.1, "art_chance": 0.1, "two_days_in": 4, "is_typed": false}, "defaults": {"family": "plastisol", "firmness": "easy", "white_on_dark": "same screen twice", "mesh_base": 150, "mesh_white": 160, "mesh_colour": 225, "spare_pct": 2.0, "garment_pct": [["tee", 100], ["long sleeve", 90], ["fleece", 70], ["youth", 95], ["bag", 85]], "carrier": "collected", "print_width_in": 11.0, "print_height_in": 13.0, "finish_each_s": 9.0, "finish_lag_min": 10, "last_box_min": 4, "between_min": 5}, "stage_min": 8, "stage_crew": [["stage", 1]], "finish_crew": [["pack", 1]], "packing_hours": [{"weekdays": [0, 1, 2, 3, 4], "from_min": 480, "to_min": 960, "breaks": []}], "dont_touch_before": "2026-03-02T10:00:00+00:00", "room_kept_free_min": 30, "paper": {"units": "US", "size": "Letter", "coverage_pct": 100.0, "screen_sheet_min": 900}}');
CREATE TABLE versions (
	version INTEGER NOT NULL, 
	at TEXT NOT NULL, 
	who TEXT NOT NULL, 
	why TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	changes JSON NOT NULL, 
	CONSTRAINT pk_versions PRIMARY KEY (version)
);
INSERT INTO "versions" VALUES(1,'2026-03-02T07:05:00','Ana','brought from week','c44d155810b7b3048a4b50bd3c4063e52a1ddef89eaa513c0e4e57c498c2eddb','[]');
INSERT INTO "versions" VALUES(2,'2026-03-02T07:05:00','Bruno','brought from week','c44d155810b7b3048a4b50bd3c4063e52a1ddef89eaa513c0e4e57c498c2eddb','["orders: 4103 left chest is new"]');
CREATE UNIQUE INDEX ix_announced_now ON announced (place) WHERE until IS NULL;
CREATE INDEX ix_announced_since ON announced (since);
CREATE UNIQUE INDEX ix_assumptions_now ON assumptions (place) WHERE until IS NULL;
CREATE INDEX ix_assumptions_since ON assumptions (since);
CREATE UNIQUE INDEX ix_designs_now ON designs (place) WHERE until IS NULL;
CREATE INDEX ix_designs_since ON designs (since);
CREATE UNIQUE INDEX ix_files_now ON files (place) WHERE until IS NULL;
CREATE INDEX ix_files_since ON files (since);
CREATE UNIQUE INDEX ix_frames_now ON frames (place) WHERE until IS NULL;
CREATE INDEX ix_frames_since ON frames (since);
CREATE UNIQUE INDEX ix_imprints_now ON imprints (place) WHERE until IS NULL;
CREATE INDEX ix_imprints_order_id ON imprints (order_id);
CREATE INDEX ix_imprints_since ON imprints (since);
CREATE UNIQUE INDEX ix_lots_now ON lots (place) WHERE until IS NULL;
CREATE INDEX ix_lots_order_id ON lots (order_id);
CREATE INDEX ix_lots_since ON lots (since);
CREATE UNIQUE INDEX ix_orders_now ON orders (place) WHERE until IS NULL;
CREATE INDEX ix_orders_order_id ON orders (order_id);
CREATE INDEX ix_orders_since ON orders (since);
CREATE UNIQUE INDEX ix_progress_now ON progress (place) WHERE until IS NULL;
CREATE INDEX ix_progress_order_id ON progress (order_id);
CREATE INDEX ix_progress_since ON progress (since);
CREATE UNIQUE INDEX ix_screen_sets_now ON screen_sets (place) WHERE until IS NULL;
CREATE INDEX ix_screen_sets_since ON screen_sets (since);
CREATE UNIQUE INDEX ix_shops_now ON shops (place) WHERE until IS NULL;
CREATE INDEX ix_shops_since ON shops (since);
CREATE INDEX ix_events_about ON events (about);
CREATE INDEX ix_events_at ON events (at);
COMMIT;
