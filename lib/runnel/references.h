#pragma once
// One bibliography: the keys that stand in [brackets] beside numbers and formulas, and what they mean.
// One line each: `key` first; after the last semicolon how it was obtained: FOUND (read in the published
// text), secondary (read in a text that quotes it), from memory, or derived here. `runnel explain KEY` reads
// this list.
//
// [nist-sp811] A. Thompson, B. N. Taylor, Guide for the Use of the International System of Units, NIST Special Publication 811, 2008, appendix B.8; from memory
// [uk-units-1995] The Units of Measurement Regulations 1995 (United Kingdom), gallon = 4.54609 L; from memory
// [dekker1971] T. J. Dekker, A floating-point technique for extending the available precision, Numerische Mathematik 18 (1971) 224-242; from memory
// [tanaka2001] M. Tanaka, G. Girard, R. Davis, A. Peuto, N. Bignell, Recommended table for the density of water between 0 C and 40 C, Metrologia 38 (2001) 301-309; formula from memory, anchors secondary
// [kell1975] G. S. Kell, Density, thermal expansivity and compressibility of liquid water from 0 to 150 C, J. Chem. Eng. Data 20 (1975) 97-105; secondary
// [iapws95] IAPWS R6-95, Thermodynamic properties of ordinary water substance for general and scientific use; values computed, not read
// [iapws-r12-08] IAPWS R12-08, Viscosity of ordinary water substance; check points secondary, values computed
// [iapws-sr6-08] IAPWS SR6-08, Supplementary release on properties of liquid water at 0.1 MPa; coefficients from memory
// [iapws-r1-76] IAPWS R1-76(2014), Surface tension of ordinary water substance; formula from memory
// [wagner-pruss1993] W. Wagner, A. Pruss, International equations for the saturation properties of ordinary water substance, J. Phys. Chem. Ref. Data 22 (1993) 783-787; values computed, not read
// [buck1996] A. L. Buck, Buck Research CR-1A user's manual, appendix 1, 1996 (after J. Appl. Meteorol. 20 (1981) 1527-1532); from memory
// [us-standard-atmosphere-1976] U.S. Standard Atmosphere 1976, NOAA-S/T 76-1562; constants secondary
// [darcy-weisbach] h = f (L/D) V^2/(2g), laminar f = 64/Re (Hagen-Poiseuille); universal textbook matter; from memory
// [colebrook1939] C. F. Colebrook, Turbulent flow in pipes, J. Inst. Civ. Eng. 11 (1939) 133-156; from memory; the pair 3.7 and 2.51 as in [clamond2009] eq. 1
// [clamond2009] D. Clamond, Efficient resolution of the Colebrook equation, Ind. Eng. Chem. Res. 48 (2009) 3665-3671; FOUND
// [churchill1977] S. W. Churchill, Friction-factor equation spans all fluid-flow regimes, Chem. Eng. 84(24) (1977) 91-92; citation from memory, formula secondary
// [illinois-77-906] Illinois Administrative Code, Title 77, Part 906, Appendix A, Exhibit I: friction loss in Schedule 40 plastic pipe, C = 150; FOUND
// [irrigation-course] University irrigation course, table "PVC class 160", psi per 100 ft, bores printed; FOUND
// [irrigation-catalogue] Irrigation catalogue, technical page, Class 315 PVC SDR 13.5, C = 150; FOUND
// [irrigation-supplier] Irrigation supplier's table, 200 psi SDR 21 PVC, C = 150; FOUND
// [crane-tp410] Crane Co., Flow of fluids through valves, fittings and pipe, Technical Paper 410, p.; fT, gate and swing check FOUND in a scan, long elbow secondary, other n from memory
// [minor-loss-9.2] Minor loss table 9.2 of a text on materials handling, crediting V. L. Streeter and E. B. Wylie 1975 and D. S. Miller 1990; FOUND
// [water-supply-6-4] Water supply handbook, table 6-4, losses of inlets, valves and changes of bore; FOUND
// [fitting-table] Chemical engineers' handbook, table of additional friction loss of valves and fittings; FOUND
// [hvac-pump-handbook] HVAC Pump Handbook, 2006, tables 3.10 and 3.11, screwed fittings; FOUND
// [rennels2012] D. C. Rennels, H. M. Hudson, Pipe Flow, 2012; value computed with python3-fluids, not read
// [borda-carnot] Sudden expansion by momentum balance, (1 - A1/A2)^2; universal textbook matter; from memory
// [streeter-wylie] V. L. Streeter, E. B. Wylie, Fluid Mechanics; Weisbach's contraction coefficients; FOUND
// [britannica1911] Encyclopaedia Britannica, 11th ed., vol. 14, Hydraulics, section 18; FOUND
// [molesworth-book] Molesworth's pocket-book of engineering formulae; short cylindrical tube about 0.81; FOUND (scan partly garbled)
// [hec-22] FHWA, Urban drainage design manual, HEC-22; from memory
// [prohaska2008] P. Prohaska, thesis, Clemson University, 2008: coefficient of a hole in a riser rises as the head falls; FOUND
// [mcenroe1988] B. M. McEnroe, J. M. Steichen, R. M. Schweiger, Hydraulics of perforated riser inlets, Trans. ASAE 31(4) (1988); from memory
// [nrcs-permit] Mining permit (Colorado) quoting NRCS practice for drop inlets: C = 0.6, weir 3.1 US, pipe 5087 n^2/d^(4/3); FOUND
// [hds-5] FHWA, Hydraulic Design of Highway Culverts, HDS-5: J. M. Normann, R. J. Houghtalen, W. J. Johnston, 2nd ed. 2001 (FHWA-NHI-01-020), constants of table 9 and the 10 % FOUND; J. D. Schall et al., 3rd ed. 2012 (FHWA-HIF-12-026), limits 3.5 and 4.0, Ku and Ks of appendix A secondary
// [culvert-polynomial] FHWA table of polynomials for inlet control, after Calculator Design Series 3, 1980; secondary, five of eight rows also FOUND, rounded, in the Texas DOT Hydraulic Design Manual eq. 8-4; its argument from memory
// [weir-page] A building trade page on rectangular weirs: Q = 3.33 (L - 0.2 H) H^1.5 in feet and seconds with both ends pinched, table for 1 ft, for L of 4 to 8 H; FOUND (its column of heads lost)
// [bs-6367] BS 6367, round outlets of gutters, weir D h^1.5/7000 and orifice D^2 h^0.5/13200 in L/s and mm; secondary (M. Escarameia, R. W. P. May, HR Wallingford SR463, 1996)
// [isentropic-flow] Isentropic flow of an ideal gas through a hole, air with gamma 1.4 and R 287.05 J/(kg K); universal textbook matter; from memory
// [awwa-m51] AWWA manual M51 on air valves takes a coefficient of 0.7 at 60 F; secondary, its table 4-2 not readable
// [siphon-practice] A university's virtual laboratory, flow through a siphon, theory: summit no lower than 7.6 m of suction, 2.7 m absolute; FOUND
// [siphon-altitude] A trade page on a siphon of 600 m: theoretical lift by altitude; FOUND
// [siphon-exam] An engineering entrance examination of 2019, civil, shift 1, siphon between two reservoirs; answer FOUND
// [chow1959] V. T. Chow, Open-Channel Hydraulics, 1959; circular sections as printed on a data page that credits it; secondary
// [robinson1992] S. M. Robinson, Normal maps induced by linear transformations, Mathematics of Operations Research 17 (1992) 691-714; from memory
// [akgiray2004] O. Akgiray on Manning's n in part-full pipes, 2004; FOUND
// [rfc3629] F. Yergeau, UTF-8, a transformation format of ISO 10646, RFC 3629, 2003; from memory
// [rfc4180] Y. Shafranovich, Common Format and MIME Type for Comma-Separated Values (CSV) Files, RFC 4180, 2005; from memory
// [astm-d1785] ASTM D1785, Poly(vinyl chloride) plastic pipe, Schedules 40, 80 and 120: dimensions and ratings; FOUND as a PVC pipe data page and a D1785-88 summary print them
// [astm-d2241] ASTM D2241, PVC pressure-rated pipe (SDR series): ratings 315, 200, 160, 100 psi and bores of SDR 26 FOUND in trade tables; rule for walls from memory
// [astm-d3035] ASTM D3035, Polyethylene plastic pipe (DR-PR) based on controlled outside diameter; walls, bores and ratings FOUND as an extruder prints them
// [astm-d2239] ASTM D2239, Polyethylene plastic pipe (SIDR-PR) based on controlled inside diameter; dimensions from memory, walls and ratings computed by its rules
// [iso-11922-1] ISO 11922-1, Thermoplastics pipes for the conveyance of fluids, dimensions and tolerances, part 1, grade of wall tolerance for polyethylene; from memory
// [iso-4427-1] ISO 4427-1, Plastics piping systems for water supply, polyethylene, part 1, with the temperature coefficients of annex A; design coefficient FOUND, annex A from memory
// [iso-4427-2] ISO 4427-2:2007, part 2, pipes (EN 12201-2 alike); minimum walls FOUND as a tank maker's table and a PE100 brochure print them
// [asme-b36-10] ASME B36.10, Welded and seamless wrought steel pipe (material: ASTM A53): diameters, walls, bores; FOUND in an installation handbook
// [asme-b31-1] ASME B31.1 and B31.9, piping codes: inside pressure of threaded steel pipe, allowed stress of butt-welded ASTM A53 pipe, walls 12.5 % thin; from memory
// [asme-b1-20-1] ASME B1.20.1, Pipe threads: 14, 11.5 and 8 threads an inch; from memory
// [sdr135-catalogue] technical page of an irrigation catalogue, PVC SDR 13.5 class 315: walls and average bores; FOUND
// [pvc-maker-data] engineering data sheet of a PVC pipe maker: temperature factors, worked examples, half rating if threaded; FOUND
// [ppi-tr3] Plastics Pipe Institute, TR-3, interpolation of stress in the inverse absolute temperature; rule and multipliers from memory
// [binder1973] R. C. Binder, Fluid Mechanics, 1973, table of roughness, as an educational site prints it; FOUND
// [hi-data-book] Hydraulic Institute Engineering Data Book, C of Hazen-Williams, as an engineering reference table credits it; FOUND
// [awwa-surge] American surge formula and short-term moduli of PVC (400 000 psi) and PE (150 000 psi) in the handbooks of AWWA, Uni-Bell and PPI; from memory
// [joukowsky-korteweg] wave speed of Korteweg and pressure rise of Joukowsky, a = sqrt(K/rho)/sqrt(1 + c1 K D/(E e)), dH = a dV/g; from memory, values FOUND in a pipe maker's table agree
// [plastic-poisson] Poisson's ratio of PE 0.45, of PVC 0.38 (0.35 to 0.45 in use); from memory
// [surge-article] An article on surge in plastic pipe: rise for 1 ft/s by DR for PVC (400 000 psi) and PE (115 000 psi), short-term modulus of PE 110 000 psi; FOUND in a copy whose digits ran together
// [pex-maker] A pipe maker's technical page on surge in cross-linked polyethylene: modulus, wave speeds, 2.5 times the rating with surge; FOUND
// [awwa-pe] AWWA C901, C906 and manual M55, polyethylene: recurring total 1.5 times, occasional total twice the pressure class; from memory
// [ign-4-37-02] Information and Guidance Note 4-37-02, Design against surge and fatigue conditions for thermoplastics pipes, March 1999: no derating of tough PE for cycles; p. 1 FOUND
// [cp-312] British code of practice CP 312 for PVC: swing below half the static rating, peak below the rating; secondary (abstract of a paper on surge and fatigue of PVC and PE at a Plastics Pipes conference)
// [awwa-c900-old] AWWA C900 before 2007, PVC: class = long-term strength / 2.5 with the surge of a 2 ft/s stop in it; FOUND as a maker and a pipe association explain it
// [awwa-c900-07] AWWA C900-07, PVC: DR 14, 18, 21, 25 are class 305, 235, 200, 165 psi without surge, FOUND in a pipe maker's comparison; occasional total 1.6 times, recurring total the class, from memory
// [valve-notes] A valve maker's notes on sizing air valves: air out at 2 psi, in at 5 psi, draining Q = 0.0007872 C sqrt(S D^5), collapse of steel 16 250 000 (T/D)^3 psi; FOUND
// [pipe-restraint] factors for how a pipe is held, 1, 1 - nu/2, 1 - nu^2; FOUND on a page whose name was not kept
// [asae-s376] ASAE S376, working pressure at most 72 % of the rating where surge is not calculated, as the Missouri Livestock Watering Handbook, chapter 5, 1997, quotes it; secondary
// [boyle-gas] Isothermal gas, p V = constant; universal textbook matter; from memory
// [jordan1980] T. D. Jordan Jr, Handbook of Gravity-Flow Water Systems for Small Communities, UNICEF Nepal, 1980, section on air-blocks; title page FOUND, method from memory
// [benjamin1968] T. B. Benjamin, 1968: cavity drift in a horizontal pipe, F = 0.542; from memory
// [dumitrescu1943] Dumitrescu; Davies and Taylor: bubble rise in a vertical pipe, F = 0.351; from memory
// [bendiksen1984] Bendiksen, 1984: F = 0.542 cos + 0.351 sin; and a factor for low Reynolds numbers; secondary (as [weber1981]), the two constants in another program's source
// [weber1981] M. E. Weber, Drift in intermittent two-phase flow in horizontal pipes, Can. J. Chem. Eng. 59 (1981): F = 0.54 - 1.76 Bo^-0.56; title from memory, formula secondary (as coded in the two-phase model of Petalas and Aziz)
// [wallis1969] G. B. Wallis, One-dimensional Two-phase Flow, 1969: bubble in an upright pipe with surface tension; formula secondary (as [weber1981])
// [bretherton1961] F. P. Bretherton, The motion of long bubbles in tubes, J. Fluid Mech. 10 (1961) 166-188: no rise below rho g r^2/sigma 0.842; abstract FOUND
// [reynolds1995] C. Reynolds, M. Yitayew, Low-head bubbler irrigation systems, part II, Agric. Water Management 29(1) (1995) 25-35: velocities that keep hoses free of air; abstract FOUND
// [kalinske-robertson1943] A. A. Kalinske, J. M. Robertson, Closed conduit flow, Trans. ASCE 108 (1943): air entrained by a jump in a 6 in pipe; from memory
// [kalinske-bliss1943] Kalinske and Bliss, 1943: clearing, F = 1.509 sqrt(tan theta); from memory
// [kent1952] Kent, 1952, refitted by Mosvell, 1976: F = 0.55 + 0.5 sqrt(sin theta); from memory
// [wisner1975] Wisner et al., ASCE J. Hydraulics Div. 101 HY2 (Feb 1975); title page FOUND, formula secondary (a forum quoting Sanks, Pumping Station Design)
// [walski1994] Walski et al., 1994: 0.88 V^2/(g D S^0.68) = 1; from memory
// [escarameia2007] Escarameia, ICE Water Management 160(1) (2007); range FOUND in the abstract, form secondary, constants and factor from memory
// [nrcs-430] USDA-NRCS practice standard 430, Irrigation Pipeline (Pacific Islands Area, April 2012): static pressure and transients below the rating at every point, and about 5 ft/s where a valve ends the line (516/430); the first FOUND, the second from memory
// [air-release-chapter] A handbook chapter, doi 10.1201/9781315273426-42: air comes out of water at about 7.5 m under the air's pressure; FOUND
// [liou1998] C. P. Liou, Limitations and proper use of the Hazen-Williams equation, J. Hydraul. Eng. 124(9) (1998) 951; abstract FOUND
// [davis2005] T. A. Davis, Algorithm 849: a concise sparse Cholesky factorization package, ACM Trans. Math. Softw. 31 (2005) 587-591; from memory
// [liu1990] J. W. H. Liu, The role of elimination trees in sparse factorization, SIAM J. Matrix Anal. Appl. 11 (1990) 134-172; from memory
// [todini1988] E. Todini, S. Pilati, A gradient algorithm for the analysis of pipe networks, Computer Applications in Water Supply, vol. 1, 1988, 1-20; from memory
// [rheinboldt1970] W. C. Rheinboldt, On M-functions and their application to nonlinear Gauss-Seidel iterations and to network flows, J. Math. Anal. Appl. 32 (1970) 274-307; from memory
// [qi-sun1993] L. Qi, J. Sun, A nonsmooth version of Newton's method, Math. Programming 58 (1993) 353-367; from memory
// [crandall-liggett1971] M. G. Crandall, T. M. Liggett, Generation of semi-groups of nonlinear transformations on general Banach spaces, Amer. J. Math. 93 (1971) 265-298; from memory
// [duff-reid1983] I. S. Duff, J. K. Reid, The multifrontal solution of indefinite sparse symmetric linear equations, ACM Trans. Math. Softw. 9 (1983) 302-325; from memory
// [liu1992] J. W. H. Liu, The multifrontal method for sparse matrix solution: theory and practice, SIAM Review 34 (1992) 82-109; from memory
// [amestoy1996] P. R. Amestoy, T. A. Davis, I. S. Duff, An approximate minimum degree ordering algorithm, SIAM J. Matrix Anal. Appl. 17 (1996) 886-905; from memory
// [gth1985] W. K. Grassmann, M. I. Taksar, D. P. Heyman, Regenerative analysis and steady state distributions for Markov chains, Oper. Res. 33 (1985) 1107-1116; from memory
// [alfa-xue-ye2002] A. S. Alfa, J. Xue, Q. Ye, Accurate computation of the smallest eigenvalue of a diagonally dominant M-matrix, Math. Comp. 71 (2002) 217-236; from memory
// [ashcraft-grimes1989] C. Ashcraft, R. Grimes, The influence of relaxed supernode partitions on the multifrontal method, ACM Trans. Math. Softw. 15 (1989) 291-309; from memory
// [hairer-wanner1996] E. Hairer, G. Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.8: Radau IIA of order 5, its error estimate; from memory
// [umaine-lesson7] University of Maine Extension, lesson 7, table 1: daily water needs of livestock; FOUND
// [us-rural-home] Water use in US rural homes, 50 to 75 gal a person a day; from memory
// [agproud-52087] Ag Proud, article 52087: 1 gal/min fills a trough of 750 gal in 12.5 h; FOUND
// [sequent-peak] H. A. Thomas, R. P. Burden, Operations research in water quality management, Harvard Water Resources Group (1963): the sequent peak over two cycles; from memory
// [savic-walters1997] D. A. Savic and G. A. Walters, Genetic algorithms for least-cost design of water distribution networks, J. Water Resour. Plann. Manage. 123(2), 1997: constants k in use; from memory
// [student1908] Student (W. S. Gosset), The probable error of a mean, Biometrika 6 (1908) 1-25; from memory, worked intervals FOUND in statistics texts on the web
// [grubbs1969] F. E. Grubbs, Procedures for detecting outlying observations in samples, Technometrics 11 (1969) 1-21; limits from memory
// [nist-strd] NIST Statistical Reference Datasets, linear regression, certified values; from memory
// [maillet1905] E. Maillet, Essais d'hydraulique souterraine et fluviale, 1905: recession of a spring, Q = Q0 exp(-alpha t); secondary (an encyclopaedia of hydrology on the web)
// [hahn-meeker] G. J. Hahn, W. Q. Meeker, Statistical Intervals, 1991: prediction intervals of a normal; from memory
// [owen1968] D. B. Owen, A survey of properties and applications of the noncentral t-distribution, Technometrics 10 (1968) 445-478; from memory
// [natrella1963] M. G. Natrella, Experimental Statistics, NBS Handbook 91, 1963, table A-7, one-sided tolerance factors; from memory
// [clopper-pearson1934] C. J. Clopper, E. S. Pearson, The use of confidence or fiducial limits illustrated in the case of the binomial, Biometrika 26 (1934) 404-413; from memory
// [start-up-derivation] Water that starts in an empty line, pocket by pocket: statics and Boyle's law, our own derivation with its assumptions and worked lines in tests/data/lines/README.md; not from the literature; derived here
// [air-lock-article] General encyclopaedia, article on air locks: order of filling of an undulating pipe, gauge head on the trapped air limited by the supply above the crest or by the rise beyond the low point; FOUND up to that limit, the rest of the rule from memory
// [hazen-williams-sets] Constants of Hazen-Williams in print: V = k C R^0.63 S^0.54 with k = 0.849 (m, s) and 1.318 (ft, s), 10.67/1.852/4.87 FOUND in several pages, 10.6744/1.852/4.8704 from memory; five sets compared in tests/data/lines/02_headloss_single_pipe.json; spread of 0.33 % computed
// [hazen-williams-limits] Common statements on where Hazen-Williams holds: water near 60 F, bore of 2 in and more, at most 10 ft/s, turbulent; the Reynolds number of 1e5 is ours, from comparing it with Colebrook in smooth pipe; from memory
// [slow-closure] Velocity falling linearly to zero in T > 2L/a raises the head at the valve by 2 L V/(g T); universal textbook matter; from memory
// [astm-e11] ASTM E11, woven wire test sieves: No. 4 4.75 mm, No. 70 0.212 mm, No. 100 0.150 mm, No. 200 0.075 mm; from memory
// [filter-evaluation] USACE Risk Management Center, Filter Evaluation manual v1.0, after FEMA 2011: which curve each rule takes, D15F >= n D15B with n of each agency; secondary
// [fhwa-river-manual] US highway river manual, pp. 6.61 to 6.70, equations 6.24 to 6.26 and two worked filters (most likely FHWA HDS-6); text of the pages FOUND, title from memory
// [usbr-earth-manual] Bureau of Reclamation, Earth Manual, 1960, filter ratios; secondary
// [nrcs-633-26] USDA-NRCS, National Engineering Handbook, part 633, chapter 26, Gradation design of sand and gravel filters, 1994 and 2017; limits of classes 1 and 4 secondary (an encyclopaedia article), the rest from memory
// [corps-em-1901] US Army Corps of Engineers, EM 1110-2-1901, Seepage analysis and control for dams, 2005 print: D15F at least 3 to 5 D15B; secondary (filter-evaluation)
// [corps-shore] US Army Corps of Engineers, shore protection manual, eq. 9-10: stone at perforations and slots, cloth on soil; FOUND
// [aashto-m288] AASHTO M 288, geotextiles for drainage, as the guide specification UFGS 02373 prints it (its last row "> 15" read as "> 50"); secondary
// [cloth-maker-note] A maker's note on filter cloth: conductivity at least ten times the soil's; secondary
// [hazen1911] A. Hazen on dams on sand foundations, Trans. ASCE 73 (1911): k = C D10^2; formula from memory, range of D10 secondary
// [fetter-hydrogeology] C. W. Fetter, Applied Hydrogeology: C of Hazen's rule 40 to 150 by kind of sand; from memory
// [dupuit1863] J. Dupuit, Etudes theoriques et pratiques sur le mouvement des eaux, 2nd ed. 1863; universal textbook matter; from memory
// [driscoll1986] F. G. Driscoll, Groundwater and Wells, 2nd ed. 1986: entrance velocity 0.1 ft/s; from memory
// [hazen1904] A. Hazen, On sedimentation, Trans. ASCE 53 (1904) 45-88: surface load of an ideal basin; settling velocities of sand at 10 C from memory of the table in textbooks
// [ferguson-church2004] R. I. Ferguson, M. Church, A simple universal equation for grain settling velocity, J. Sedimentary Research 74 (2004) 933-937; from memory
// [rubey1933] W. W. Rubey, Settling velocities of gravel, sand and silt particles, Am. J. Science 25 (1933) 325-338; from memory
// [virginia-356-487] Virginia Tech, publication 356-487: spring box, 1.5 qt of bleach per 100 gal, 12 h; FOUND
// [oregon-health] Oregon Health Authority, disinfection of tanks and boxes: 50 mg/L, walls 200 mg/L for 3 h; FOUND
// [mil-hdbk-1164] MIL-HDBK-1164, chlorine stock for wells, "100 mg/L" from 1 qt of 5.25 % or 2 oz of 65 % powder per 100 gal; FOUND
// [plumbing-code-610] Plumbing code, section 610.1: pipes, 50 mg/L for 24 h or 200 mg/L for 3 h; FOUND
// [awwa-c651] AWWA C651, disinfecting water mains: 25 mg/L for 24 h with 10 left, slug of 100 mg/L for 3 h; from memory
// [stefan1891] J. Stefan, Ueber die Theorie der Eisbildung, Annalen der Physik 278 (1891) 269-286; from memory
// [plumbing-code-frost] International Plumbing Code: 6 in below the frost line, 12 in at least; secondary
// [pipe-expansion] Expansion of plastic pipe in makers' pages: PE 0.15, 0.162, 0.18, PVC 0.056 mm/m/K; PE 0.21, PVC 0.050, 0.061; PVC 0.08; FOUND, secondary and from memory in this order
// [awwa-m23] AWWA M23, PVC pipe, thrust block of an 8 in bend, angle, pressure and factor inferred from its figures; secondary
// [bc-590-304] BC Ministry of Agriculture factsheet 590.304-5, January 2006, p. 1: a foot of water is 0.433 psi, 2.31 ft are 1 psi; FOUND
// [stock-tank-article] A farm paper on stock tanks: 1 gal/min fills a round tank of 8 ft by 2 ft (750 gal) in 12.5 h; FOUND
// [ten-states] Recommended standards for water works of ten US states of the Great Lakes and upper Mississippi: valves every 500 ft, 800 ft or rural mile; from memory
// [osu-anr-12] Ohio State University Extension ANR-12, 2003: a tank for a herd that walks over 1,000 ft holds 25 % of its daily need and refills in an hour; FOUND
// [texas-tech-ce3372] Texas Tech University, notes of CE 3372: unions every 60 m on straight line; FOUND
// [nrcs-sd2006-1] NRCS South Dakota, technical note SD2006-1, 2010: drinking spaces and two worked tanks; secondary
// [nrcs-614] NRCS practice 614, Watering facility, Oklahoma, April 2021: drinking rates and trough edge; secondary
// [waitaki-restricted] Waitaki District, restricted supply: storage of three days' flow; FOUND
// [uganda-dwd] Uganda, Water Supply Design Manual, 2nd ed. 2013, section 7.6.2 and table 7-6; FOUND
// [epa-private-water] US EPA leaflet on private water supplies (UNT archive): water is not backed up behind a spring's wall, yield can drop or the spring can move; FOUND
// [new-york-5-6] New York State, part 5, section 5-6.4(c): spring wall watertight, 12 in above the highest ground, down to the water-bearing layer; FOUND
// [lane1935] E. W. Lane, Security from under-seepage: masonry dams on earth foundations, Trans. ASCE 100 (1935): weighted creep ratios; from memory
// [wisconsin-nr-812] Wisconsin Administrative Code NR 812.25: clear zone of a spring; FOUND
// [ohio-3701-28-13] Ohio Administrative Code 3701-28-13: clear zone, diversion ditch; FOUND
// [utah-r309-600] Utah R309-600-13, 2012: sewers near springs; FOUND
// [uk-dwi-springs] UK Drinking Water Inspectorate on private supplies: manure and stock; FOUND
// [green-roads-water] Green Roads for Water: latrines and fences near springs; FOUND
// [nzdl-handbook] Relief handbook in the New Zealand Digital Library, paragraph 19: 50 to 100 m from privies, septic tanks, stock uphill; FOUND
// [nrcs-516-az] USDA-NRCS Arizona, specification 516, May 1989: plastic pipe rated 80 psi at least, 4 in of bedding over rock; FOUND
// [nrcs-velocity] USDA-NRCS practice standards 516 and 430: velocity in valve-controlled plastic lines about 5 ft/s; from memory
// [nrcs-graziers] USDA-NRCS Missouri, Watering Systems for Serious Graziers, p. 29 and p. 35: survey precision, supply pipe from a collector 1-1/4 in at least; FOUND
// [nrcs-grade] USDA-NRCS field practice: 1-1/4 in for grades over 1 %, 1-1/2 in for 0.5 to 1 %, 2 in for 0.2 to 0.5 % against air-lock in spring lines; from memory
// [nrcs-s-430-dd] USDA-NRCS specification S-430-DD, parts A and B: least cover of plastic pipe 18, 24, 30 in by size; FOUND
// [kcare-spring] Kansas State University, KCARE: a spring should give at least 1 gal/min all year; FOUND
// [sphere-handbook] Sphere handbook, older edition: 15 L a person a day, 20 L filled in at most 3 minutes; FOUND, the flow of 0.111 L/s computed
// [utah-r309-550] Utah Administrative Code R309-550-5: static pressure over 150 psi needs reducers; FOUND
// [weber-shirk] M. Weber-Shirk, Gravity Water Supply Design (Honduras): storage of 8 h of the average flow; FOUND
// [private-supplies-uk] UK pages on private water supplies: overflow sized for the spring's greatest flow; FOUND
// [wisconsin-nr-812-33] Wisconsin Administrative Code NR 812.33(2)(b): a tank's overflow passes more than the inflow, screened, turned down; FOUND
// [spring-upkeep] Key facts on the protection of springs: weekly clean round the spring, after each flood look at the water, yearly wash and disinfect; FOUND
// [meuli-wehrli] Note on operation and upkeep of springs after Meuli and Wehrli 2001: monthly visit, yearly disinfection, bacteria tested after work and yearly; secondary
// [max-flow-min-cut] L. R. Ford, D. R. Fulkerson, Maximal flow through a network, Canad. J. Math. 8 (1956) 399-404: the least cut is the greatest flow; from memory
// [karmeli1968] D. Karmeli, Y. Gadish, S. Meyers, Design of optimal water distribution networks, J. Pipeline Div. ASCE 94 (1968) 1-9: the lengths of each size as a linear programme; from memory
// [pipe-densities] Densities of pipe materials, handbook values: PE 955, PVC 1400, steel 7850 kg/m3; from memory
// [pipe-trade] Trade lengths: coils of 25 to 150 m for PE of 20 to 63 mm (a maker in the United Kingdom), sticks of 3 to 6 m for PVC (PVC4Pipes); FOUND
// [steele2014] G. L. Steele, D. Lea, C. H. Flood, Fast splittable pseudorandom number generators, OOPSLA 2014: the mixing of a counter; from memory
// [alperovits1977] E. Alperovits, U. Shamir, Design of optimal water distribution systems, Water Resour. Res. 13(6) (1977) 885-900: a linear programme for fixed flows, and the flows searched over it; from memory
